import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { readEstimate } from '../../server/counts/queries-estimate.ts';
import { audit, cultureEstimates, cultureParents, cultures, diary } from '../../server/schema/tables.ts';
import { makeCounted } from '../support/counted.ts';
import { behavesLikeAFormPage } from '../support/form-page.ts';
import { makeLine, makeOrder } from '../support/orders.ts';
import { rebuiltOf, storedOf } from '../support/rebuild.ts';
import { makeEnclosure, makePlace, makeSpecies } from '../support/stock.ts';
import { type TestApp, testApp, testToday } from '../support/test-app.ts';

const path = (code: string) => `/cultures/${code}/split`;
const stock = ({ db }: TestApp) => makeCounted(db, 140);
type Made = ReturnType<typeof stock>;

const moved = { adults: '10', juveniles: '4', seeding: '250', seedingUnit: 'ml', note: 'for the shop' };
const form = (parent: Made, more: Record<string, string> = {}) => ({
  ...moved,
  enclosureId: String(parent.enclosureId),
  ...more,
});
const tables = ({ db }: TestApp) => ({
  cultures: db.select().from(cultures).all(),
  parents: db.select().from(cultureParents).all(),
  diary: db.select().from(diary).all(),
  estimates: db.select().from(cultureEstimates).all(),
  audit: db.select().from(audit).all(),
});
const newest = (app: TestApp) => app.db.select().from(cultures).all().at(-1)!;

describe('the page of a split', () => {
  behavesLikeAFormPage({
    path,
    make: stock,
    good: { ...moved, onDay: testToday, enclosureId: '1' },
    bad: { ...moved, adults: '0', juveniles: '', enclosureId: '1', note: '<script>alert(1)</script>' },
    says: 'At least one animal must move.',
    keeps: ['value="250"', '&lt;script>alert(1)&lt;/script>'],
  });
});

describe('splitting', () => {
  it('shows what is known and offers what fits', async () => {
    const app = await testApp();
    const parent = stock(app);
    const { text } = await app.helper.get(path(parent.code));
    expect(text).toMatch(/about 1\d\d \(\d+ to \d+\), counted 7 days ago/);
    expect(text).toContain('9 animals or more');
    expect(text).toMatch(/Can go without harm<\/dt><dd[^>]*><strong>\d+ animals/);
    expect(text).toMatch(/name="code"[^>]*value="EX-\d+"/);
    expect(text).toMatch(new RegExp(`value="${parent.enclosureId}" selected`));
  });

  it('founds the child, takes it out of the parent, and brings both estimates up to it at once', async () => {
    const app = await testApp();
    const parent = makeCounted(app.db, 140, { morph: 'orange' });
    const before = readEstimate(app.db, parent.id)!;
    const place = makePlace(app.db);
    const answer = await app.helper.post(
      path(parent.code),
      form(parent, { code: 'EX-900', placeId: String(place.id) }),
    );
    expect([answer.status, answer.headers.location]).toEqual([303, '/cultures/EX-900']);
    const child = newest(app);
    expect(child).toMatchObject({
      code: 'EX-900',
      speciesId: parent.speciesId,
      morph: 'orange',
      lineId: parent.lineId,
      enclosureId: parent.enclosureId,
      placeId: place.id,
      foundedOn: testToday,
      origin: 'split',
      foundingAnimals: 14,
      status: 'active',
      madeBy: 'person-helper',
    });
    expect(tables(app).parents).toEqual([{ cultureId: child.id, parentId: parent.id, animals: 14 }]);
    expect(tables(app).diary.at(-1)).toMatchObject({
      cultureId: parent.id,
      kind: 'split',
      animals: 14,
      adults: 10,
      juveniles: 4,
      otherCultureId: child.id,
      seedingMl: 250,
      note: 'for the shop',
    });
    const after = readEstimate(app.db, parent.id)!;
    expect(before.median! - after.median!).toBeGreaterThan(13);
    expect(before.median! - after.median!).toBeLessThan(15);
    expect(readEstimate(app.db, child.id)?.median).toBeCloseTo(14, 0);
    for (const { id } of [parent, child]) expect(rebuiltOf(app.db, id)).toEqual(storedOf(app.db, id));
    const { text } = await app.helper.get('/cultures/EX-900');
    expect(text).toContain(`EX-900 is split off ${parent.code}, which is left with about 1`);
    expect(text).toContain(`<a href="/cultures/${parent.code}">To ${parent.code}</a>`);
    const diary = (await app.helper.get(`/cultures/${parent.code}`)).text;
    expect(diary).toContain(
      '14 animals moved to <a class="code" href="/cultures/EX-900" translate="no">EX-900</a>',
    );
    expect(diary).toContain('(10 adults, 4 juveniles); 250 ml of old substrate along');
  });

  it.each([
    ['the lineage', 'culture_parents'],
    ["the parent's entry", 'diary'],
    ['the last estimate', 'culture_estimates'],
    ['the form key', 'form_keys'],
  ])('leaves nothing behind when %s cannot be written', async (_what, table) => {
    const app = await testApp();
    const parent = stock(app);
    const before = tables(app);
    app.sqlite.exec(
      `CREATE TRIGGER broken BEFORE INSERT ON ${table} BEGIN SELECT RAISE(ABORT, 'the disk is gone'); END`,
    );
    expect((await app.helper.post(path(parent.code), form(parent))).status).toBe(500);
    app.sqlite.exec('DROP TRIGGER broken');
    expect(tables(app)).toEqual(before);
  });

  it('equals a rebuild when it is dated in the past, between counts', async () => {
    const app = await testApp();
    const parent = makeCounted(app.db, 100, { onDay: '2026-08-01' });
    await app.helper.post(`/cultures/${parent.code}/count`, { method: 'full', counted: '125' });
    const answer = await app.owner.post(path(parent.code), form(parent, { onDay: '2026-09-10' }));
    expect(answer.status).toBe(303);
    expect(newest(app).foundedOn).toBe('2026-09-10');
    const stored = storedOf(app.db, parent.id);
    expect(stored.points).toHaveLength(3);
    expect(rebuiltOf(app.db, parent.id)).toEqual(stored);
  });

  it('takes volumes in the units of the house', async () => {
    const app = await testApp();
    const parent = stock(app);
    app.sqlite.exec("UPDATE business SET units = 'us'");
    expect((await app.helper.get(path(parent.code))).text).toContain('<option value="cup">cups</option>');
    await app.helper.post(path(parent.code), form(parent, { seeding: '1 1/2', seedingUnit: 'cup' }));
    expect(tables(app).diary.at(-1)?.seedingMl).toBe(354.9); // 1.5 US cups of 236.588 ml (NIST Handbook 44)
  });

  it('says beside the field what is wrong', async () => {
    const app = await testApp();
    const parent = stock(app);
    const other = makeSpecies(app.db);
    app.sqlite.exec(
      `INSERT INTO lines (id, species_id, name, locality, note) VALUES (7, ${other.id}, 'Other', '', '')`,
    );
    const retired = makeEnclosure(app.db, { retiredAt: 1 });
    const before = tables(app);
    for (const [more, says] of [
      [{ code: parent.code.toLowerCase() }, 'is a culture already'],
      [{ code: 'two words' }, 'Letters, digits, hyphen'],
      [{ enclosureId: String(retired.id) }, 'Choose an enclosure of the list.'],
      [{ enclosureId: '' }, 'Choose one.'],
      [{ placeId: '999' }, 'Choose a place of the list.'],
      [{ lineId: '7' }, 'Choose a line of this species.'],
      [{ adults: '-1' }, 'Must be between 0 and'],
      [{ adults: 'ten' }, 'Write a whole number'],
      [{ seeding: 'much' }, 'Write a number'],
      [{ seedingUnit: 'bucket' }, 'Choose a unit of the list.'],
      [{ adults: '900' }, 'animals can have been there that day'],
      [{ adults: '100000000' }, 'Must be between 0 and'],
    ] as const) {
      const answer = await app.owner.post(path(parent.code), form(parent, more));
      expect(answer.status, says).toBe(422);
      expect(answer.text.includes(says), says).toBe(true);
    }
    expect(tables(app)).toEqual(before);
  });
});

describe('what speaks against a split', () => {
  it('is a start that is not safe: with a reason it may be made', async () => {
    const app = await testApp();
    const parent = stock(app);
    const few = form(parent, { adults: '4', juveniles: '1' });
    const asked = await app.helper.post(path(parent.code), few);
    expect(asked.status).toBe(422);
    // 1 - 2 x (1 + 5) / 32: two of each sex among five
    expect(asked.text).toContain(
      '5 animals are not a safe start: the chance of at least 2 males and 2 females is 62\u00a0%',
    );
    const unticked = await app.helper.post(path(parent.code), { ...few, reason: 'a gift' });
    expect(unticked.status).toBe(422);
    const silent = await app.helper.post(path(parent.code), { ...few, despite: 'unsafe' });
    expect(silent.status).toBe(422);
    expect(silent.text).toContain('Say why in a few words.');
    expect(tables(app).cultures).toHaveLength(1);
    const told = await app.helper.post(path(parent.code), { ...few, despite: 'unsafe', reason: 'a gift' });
    expect(told.status).toBe(303);
    expect(tables(app).diary.at(-1)?.note).toBe('for the shop\nAlthough the start is not safe: a gift');
  });

  it('knows species of females alone', async () => {
    const app = await testApp();
    const species = makeSpecies(app.db, { femaleShare: 1, startMales: 0, startFemales: 1 });
    const parent = makeCounted(app.db, 140, { speciesId: species.id });
    const one = form(parent, { adults: '1', juveniles: '0' });
    expect((await app.helper.post(path(parent.code), one)).status).toBe(303);
  });

  it('is a parent that would fall below its reserve: only the owner may, and says why', async () => {
    const app = await testApp();
    const parent = stock(app);
    const many = form(parent, { adults: '60', juveniles: '30' });
    const asked = await app.helper.post(path(parent.code), many);
    expect(asked.status).toBe(422);
    expect(asked.text).toMatch(
      /\d+ animals must stay in EX-\d+\. The chance that enough are left is (less than 1|\d+)\s%; 90\s% is wanted/,
    );
    expect(asked.text).toContain('Only the owner can decide this.');
    const despite = { ...many, despite: 'reserve', reason: 'the tub is cracked' };
    expect((await app.helper.post(path(parent.code), despite)).status).toBe(422);
    expect(tables(app).cultures).toHaveLength(1);
    expect((await app.owner.post(path(parent.code), despite)).status).toBe(303);
    expect(tables(app).diary.at(-1)?.note).toContain(
      'Although what stays may fall below the reserve: the tub is cracked',
    );
  });

  it('counts in what is promised to orders', async () => {
    const app = await testApp();
    const parent = stock(app);
    const free = readEstimate(app.db, parent.id)!.promisable;
    expect(free).toBeGreaterThan(28);
    const all = form(parent, { adults: String(free), juveniles: '0' });
    const order = makeOrder(app.db, { state: 'confirmed' });
    const line = makeLine(app.db, order.id, parent.speciesId);
    app.sqlite.exec(`INSERT INTO allocations (order_line_id, culture_id, groups, animals, state, made_at)
      VALUES (${line.id}, ${parent.id}, 1, 14, 'reserved', 1)`);
    const asked = await app.helper.post(path(parent.code), all);
    expect(asked.status).toBe(422);
    expect(asked.text).toContain('14 are promised to orders');
    const less = form(parent, { adults: String(free - 14), juveniles: '0' });
    expect((await app.helper.post(path(parent.code), less)).status).toBe(303);
  });

  it('is a parent in quarantine, and then the child starts there too', async () => {
    const app = await testApp();
    const parent = stock(app);
    await app.helper.post(`/cultures/${parent.code}/write`, { kind: 'quarantine', note: 'specks' });
    expect((await app.helper.get(path(parent.code))).text).toContain('starts in quarantine');
    expect((await app.helper.post(path(parent.code), form(parent))).status).toBe(422);
    const despite = form(parent, { despite: 'held', reason: 'to save the healthy ones' });
    expect((await app.helper.post(path(parent.code), despite)).status).toBe(303);
    expect(newest(app).status).toBe('quarantine');
    const health = app.db
      .select()
      .from(cultureEstimates)
      .where(eq(cultureEstimates.cultureId, newest(app).id))
      .get();
    expect(health).toMatchObject({ health: 'quarantine', spareGroups: 0 });
  });
});

describe('a split that was a mistake', () => {
  const split = async (app: TestApp, parent: Made, more: Record<string, string> = {}) => {
    const answer = await app.owner.post(path(parent.code), form(parent, { code: 'EX-900', ...more }));
    expect(answer.status).toBe(303);
    const entry = app.db.select().from(diary).where(eq(diary.kind, 'split')).all().at(-1)!;
    return { child: newest(app), entry, back: `/cultures/${parent.code}/splits/${entry.id}/back` };
  };

  it('is taken back as if it had never been; its code stays taken', async () => {
    const app = await testApp();
    const parent = stock(app);
    const other = makeCounted(app.db, 80);
    const before = { row: readEstimate(app.db, parent.id)!, stored: storedOf(app.db, parent.id) };
    const { child, entry, back } = await split(app, parent, { tools: 'yes', toolsFrom: other.code });
    const trace = async () => (await app.owner.get(`/cultures/${other.code}/trace`)).text;
    expect((await app.owner.get('/cultures/EX-900')).text).toContain(`action="${back}"`);
    expect((await app.helper.get(`/cultures/${parent.code}/diary/${entry.id}`)).text).toContain(
      'Take the split back',
    );
    expect(await trace()).toContain('EX-900');
    expect((await app.helper.post(back)).status).toBe(303);
    const { workedOutAt: _at, ...now } = readEstimate(app.db, parent.id)!;
    const { workedOutAt: _was, ...was } = before.row;
    expect(now).toEqual(was);
    expect(storedOf(app.db, parent.id)).toEqual(before.stored);
    expect(tables(app).parents).toEqual([]);
    expect(newest(app)).toMatchObject({ id: child.id, code: 'EX-900', status: 'retired' });
    expect(await trace()).not.toContain('EX-900');
    expect((await app.helper.get(back.replace('/back', ''))).status).toBe(404);
    // Nothing can be written of it any more, and it cannot be brought back to life.
    const gone = app.db.select().from(diary).where(eq(diary.cultureId, child.id)).all().at(-1)!;
    expect((await app.owner.post(`/cultures/EX-900/diary/${gone.id}/withdraw`)).status).toBe(409);
    expect((await app.owner.post('/cultures/EX-900/count', { method: 'full', counted: '3' })).status).toBe(
      409,
    );
    expect((await app.owner.post(back)).status).toBe(409);
    expect((await app.owner.post(path(parent.code), form(parent, { code: 'EX-900' }))).text).toContain(
      'is a culture already',
    );
  });

  it('stays while anything else is known of the new culture', async () => {
    const app = await testApp();
    const parent = stock(app);
    const { child, entry, back } = await split(app, parent);
    app.clock.at += 60_000;
    await app.helper.post('/cultures/EX-900/check', { note: 'settling in' });
    const refused = await app.helper.post(back);
    expect(refused.status).toBe(409);
    expect(refused.text).toContain('EX-900 has entries in its diary since.');
    const page = await app.helper.get(`/cultures/${parent.code}/diary/${entry.id}`);
    expect(page.text).toContain('EX-900 has entries in its diary since.');
    expect(page.text).not.toContain('Take the split back');
    const check = app.db.select().from(diary).where(eq(diary.cultureId, child.id)).all().at(-1)!;
    await app.helper.post(`/cultures/EX-900/diary/${check.id}/withdraw`);
    expect((await app.helper.post(back)).status).toBe(303);
  });

  it('takes the quarantine of the new culture along', async () => {
    const app = await testApp();
    const parent = stock(app);
    await app.helper.post(`/cultures/${parent.code}/write`, { kind: 'quarantine', note: 'specks' });
    const { back } = await split(app, parent, { despite: 'held', reason: 'to save them' });
    expect((await app.helper.post(back)).status).toBe(303);
    expect(newest(app).status).toBe('retired');
  });
});
