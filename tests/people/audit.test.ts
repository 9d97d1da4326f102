import { describe, expect, it } from 'vitest';
import { checkChain } from '../../server/people/queries-changes.ts';
import { changesBetween, note } from '../../server/plumbing/audit.ts';
import { audit } from '../../server/schema/tables.ts';
import { cast, type TestApp, testApp, testNow } from '../support/test-app.ts';

const entry = { at: 1, personId: cast.owner.id, action: 'changed', subject: 'thing 1' };

describe('the record of changes', () => {
  it('holds who, what and both versions', async () => {
    const { db } = await testApp();
    note(db, { ...entry, before: { price: 100 }, after: { price: 120 } });
    expect(db.select().from(audit).all()).toMatchObject([
      { id: 1, ...entry, before: '{"price":100}', after: '{"price":120}' },
    ]);
  });

  it('takes no secret', async () => {
    const { db } = await testApp();
    for (const name of ['password', 'passwordHash', 'token', 'tokenHash', 'cookie', 'clientSecret'])
      expect(() => note(db, { ...entry, after: { [name]: 'x' } })).toThrow(/must not stand/);
    expect(db.select().from(audit).all()).toMatchObject([]);
  });

  it('is never changed and never loses a row', async () => {
    const { db, sqlite } = await testApp();
    note(db, entry);
    expect(() => sqlite.exec("UPDATE audit SET action = 'x'")).toThrow('audit rows are not changed');
    expect(() => sqlite.exec('DELETE FROM audit')).toThrow('audit rows are kept');
  });

  it('is told only what differs', () => {
    expect(changesBetween({ a: 1, b: 'x', c: null }, { a: 1, b: 'y' })).toEqual({
      before: { b: 'x' },
      after: { b: 'y' },
    });
  });
});

/** Somebody who opens the file itself and takes the guards away. */
const behindItsBack = ({ sqlite }: TestApp, sql: string) => {
  for (const trigger of ['audit_is_not_changed', 'audit_is_kept', 'audit_is_chained', 'audit_salt_goes'])
    sqlite.exec(`DROP TRIGGER ${trigger}`);
  sqlite.exec(sql);
};

// OWASP ASVS 5.0, 16.4.2: logs are protected from being changed, and it shows when they were.
describe('the chain of changes', () => {
  const threeNotes = async () => {
    const t = await testApp();
    for (const subject of ['place 1', 'place 2', 'place 3'])
      note(t.db, { ...entry, subject, after: { subject } });
    return t;
  };

  it('holds while nobody touches it, also over rows from before it began', async () => {
    const t = await threeNotes();
    expect(checkChain(t.db)).toMatchObject({ rows: 3, older: 0, erased: 0, brokenAt: null });
    const old = await testApp();
    old.sqlite.exec('DROP TRIGGER audit_is_chained');
    old.sqlite.exec("INSERT INTO audit (id, at, action, subject) VALUES (4, 1, 'changed', 'place 1')");
    note(old.db, entry);
    expect(checkChain(old.db)).toMatchObject({ rows: 2, older: 1, brokenAt: null });
  });

  it.each([
    ["UPDATE audit SET after = '{}' WHERE id = 2", 2],
    ["UPDATE audit SET subject = 'place 9' WHERE id = 2", 2],
    ['UPDATE audit SET person_id = NULL WHERE id = 1', 1],
    ['UPDATE audit SET at = 2 WHERE id = 3', 3],
    ["UPDATE audit SET salt = NULL, after = '{}' WHERE id = 2", 2],
    ['DELETE FROM audit WHERE id = 2', 3],
    ['DELETE FROM audit WHERE id = 1', 2],
    ['UPDATE audit SET chain = NULL WHERE id = 2', 2],
  ])('breaks by %s', async (sql, brokenAt) => {
    const t = await threeNotes();
    behindItsBack(t, sql);
    expect(checkChain(t.db).brokenAt).toBe(brokenAt);
  });

  it('takes no row without its link, and none in the place of another', async () => {
    const t = await threeNotes();
    const insert = 'INSERT OR REPLACE INTO audit (id, at, action, subject, body_hash, chain)';
    for (const values of ["(9, 1, 'x', 'y', NULL, NULL)", "(2, 1, 'x', 'y', 'z', 'z')"])
      expect(() => t.sqlite.exec(`${insert} VALUES ${values}`)).toThrow('audit rows are chained');
    expect(checkChain(t.db)).toMatchObject({ rows: 3, brokenAt: null });
  });

  it('still holds when a person is erased from it, and nothing is left to guess by', async () => {
    const t = await threeNotes();
    t.sqlite.exec(`INSERT INTO customers (id, name, email, phone, street, postcode, city, region, country, units, paper, note, made_at)
      VALUES (1, 'Carla', '', '', '', '', '', '', 'DE', 'metric', 'A4', '', 1);
      INSERT INTO erasures (customer_id, customer_made_at, erased_at, done) VALUES (1, 1, 1, 0);
      UPDATE audit SET before = iif(before IS NULL, NULL, '{"erased":true}'), after = '{"erased":true}' WHERE id = 2`);
    expect(t.sqlite.prepare('SELECT salt FROM audit WHERE id = 2').pluck().get()).toBeNull();
    expect(checkChain(t.db)).toMatchObject({ rows: 3, erased: 1, brokenAt: null });
  });
});

describe('the page of changes', () => {
  it('shows who did what with both versions, filtered, to owners alone, and as CSV', async () => {
    const t = await testApp();
    note(t.db, {
      ...entry,
      at: testNow,
      subject: 'place 7',
      before: { name: 'Cellar' },
      after: { name: '=1+1' },
    });
    note(t.db, {
      ...entry,
      at: testNow - 3 * 86_400_000,
      personId: null,
      subject: 'people',
      action: 'mended',
    });
    const shown = async (query: string) => (await t.owner.get(`/settings/changes?${query}`)).text;
    const all = await shown('');
    for (const words of [
      'changed: place 7',
      'Cellar',
      '=1+1',
      'Olive Owner',
      'mended: people',
      'nobody signed in',
    ])
      expect(all).toContain(words);
    const has = async (query: string) => {
      const text = await shown(query);
      return ['changed: place 7', 'mended: people'].map((words) => text.includes(words));
    };
    expect(await has(`who=${cast.owner.id}`)).toEqual([true, false]);
    expect(await has('who=nobody')).toEqual([false, true]);
    expect(await has('subject=PLACE')).toEqual([true, false]);
    expect(await has('subject=%25')).toEqual([false, false]);
    expect(await has('from=2026-11-25&until=2026-11-25')).toEqual([true, false]);
    expect(await has('until=2026-11-24')).toEqual([false, true]);
    // no day comes after the last of the calendar
    expect(await has('until=9999-12-31')).toEqual([true, true]);
    expect(await has('from=nonsense&before=2')).toEqual([true, false]);
    const csv = await t.owner.get('/settings/changes.csv?subject=place');
    expect(csv.text).toContain('Olive Owner,changed,place 7');
    expect(csv.text).not.toContain('mended');
    expect((await t.owner.get('/settings/changes/check')).text).toContain('Whole: every line');
    expect((await t.helper.get('/settings/changes')).status).toBe(403);
  });

  it('goes on to older ones, fifty at a time', async () => {
    const t = await testApp();
    for (let at = 0; at < 51; at += 1) note(t.db, { ...entry, at: testNow, subject: `place ${at}` });
    const first = (await t.owner.get('/settings/changes?subject=place')).text;
    const older =
      /href="(\/settings\/changes\?[^"]*before=2[^"]*)"/.exec(first)?.[1]?.replaceAll('&amp;', '&') ?? '';
    expect(older).toContain('subject=place');
    const second = (await t.owner.get(older)).text;
    expect([
      first.includes('place 0<'),
      second.includes('place 0<'),
      second.includes('Older changes'),
    ]).toEqual([false, true, false]);
  });
});
