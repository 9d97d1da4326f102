import { describe, expect, it } from 'vitest';
import { appendEntry, withdrawEntry } from '../../server/cultures/queries-diary.ts';
import type { Db } from '../../server/plumbing/open-database.ts';
import { cultureParents } from '../../server/schema/tables.ts';
import {
  allContacts,
  standingContact,
  withdrawContact,
  writeContact,
} from '../../server/traces/queries-contacts.ts';
import { makeOrder } from '../support/orders.ts';
import { makeCulture, makeSpecies } from '../support/stock.ts';
import { testApp, testNow } from '../support/test-app.ts';

const by = { madeBy: null, madeAt: testNow };
type Fields = Partial<Parameters<typeof appendEntry>[1]> & Pick<Parameters<typeof appendEntry>[1], 'kind'>;

const entry = (db: Db, cultureId: number, onDay: string, fields: Fields) =>
  appendEntry(db, { ...by, via: 'page', cultureId, onDay, ...fields });

const said = (db: Db, since?: string) =>
  allContacts(db, since).map((c) => `${c.date} ${c.from}>${c.to} ${c.kind}`);

describe('contacts', () => {
  it('are read from all that the diary tells, each once, and from a day on', async () => {
    const { db } = await testApp();
    const speciesId = makeSpecies(db).id;
    const [a, b, c] = ['A', 'B', 'C'].map((code) => makeCulture(db, { code, speciesId }).id) as [
      number,
      number,
      number,
    ];
    entry(db, a, '2026-03-01', { kind: 'split', animals: 12, otherCultureId: b, seedingMl: 100 });
    entry(db, a, '2026-03-02', { kind: 'split', animals: 12, otherCultureId: c });
    entry(db, a, '2026-03-03', { kind: 'harvest', animals: 5, otherCultureId: b });
    entry(db, b, '2026-03-03', { kind: 'addition', animals: 5, otherCultureId: a });
    entry(db, c, '2026-03-04', { kind: 'addition', animals: 5, otherCultureId: b });
    entry(db, c, '2026-03-05', { kind: 'feed', food: 'flies', otherCultureId: a });
    entry(db, c, '2026-03-05', { kind: 'feed', food: 'flakes' });
    entry(db, b, '2026-03-06', { kind: 'harvest', animals: 14, orderId: makeOrder(db, { number: 40 }).id });
    entry(db, b, '2026-03-06', { kind: 'harvest', animals: 3, note: 'given away' });
    entry(db, c, '2026-03-07', { kind: 'quarantine', otherCultureId: a, note: 'contact' });
    writeContact(db, { onDay: '2026-03-08', fromId: b, toId: a, kind: 'shared tool' }, by);
    const all = [
      '2026-03-01 A>B seeding',
      '2026-03-01 A>B split',
      '2026-03-02 A>C split',
      '2026-03-03 A>B addition',
      '2026-03-04 B>C addition',
      '2026-03-05 A>C feeders',
      '2026-03-06 B>40 order',
      '2026-03-08 B>A shared tool',
    ];
    expect(said(db)).toEqual(all);
    expect(said(db, '2026-03-05')).toEqual(all.slice(5));
  });

  it('are none where the entry was taken out or corrected away', async () => {
    const { db } = await testApp();
    const [a, b] = [makeCulture(db, { code: 'A' }).id, makeCulture(db, { code: 'B' }).id];
    const fed = entry(db, b, '2026-03-05', { kind: 'feed', food: 'flies', otherCultureId: a });
    const tool = writeContact(db, { onDay: '2026-03-05', fromId: a, toId: b, kind: 'shared tool' }, by);
    expect(said(db)).toHaveLength(2);
    withdrawEntry(db, fed, by);
    withdrawContact(db, standingContact(db, tool)!, by);
    expect(said(db)).toEqual([]);
    expect(standingContact(db, tool)).toBeUndefined();
  });

  it('know a split that only the lineage tells, on the day of the founding', async () => {
    const { db } = await testApp();
    const parent = makeCulture(db, { code: 'A' });
    const child = makeCulture(db, {
      code: 'B',
      speciesId: parent.speciesId,
      origin: 'split',
      foundedOn: '2026-02-01',
    });
    db.insert(cultureParents).values({ cultureId: child.id, parentId: parent.id, animals: 9 }).run();
    expect(said(db)).toEqual(['2026-02-01 A>B split']);
    expect(said(db, '2026-02-02')).toEqual([]);
  });
});

describe('the database', () => {
  it('keeps contacts as they were written, withdraws each once, and knows how old the cultures are', async () => {
    const { db, sqlite } = await testApp();
    const [a, b] = [makeCulture(db), makeCulture(db, { foundedOn: '2026-02-01' })].map(({ id }) => id) as [
      number,
      number,
    ];
    const contact = { onDay: '2026-03-01', fromId: a, toId: b, kind: 'seeding' } as const;
    const id = writeContact(db, contact, by);
    const standing = standingContact(db, id)!;
    expect(() => sqlite.exec("UPDATE contacts SET note = 'x'")).toThrow('contacts are not changed');
    expect(() => sqlite.exec('DELETE FROM contacts')).toThrow('contacts are kept');
    expect(() => writeContact(db, { ...contact, onDay: '2026-01-20' }, by)).toThrow(
      'older than its cultures',
    );
    expect(() => writeContact(db, { ...contact, toId: a }, by)).toThrow('CHECK');
    expect(() => withdrawContact(db, { ...standing, kind: 'feeders' }, by)).toThrow('as it was written');
    withdrawContact(db, standing, by);
    expect(() => withdrawContact(db, standing, by)).toThrow('UNIQUE');
  });
});
