import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { refreshStale } from '../../server/counts/refresh-all.ts';
import { appendEntry, correctEntry } from '../../server/cultures/queries-diary.ts';
import { undoImport } from '../../server/records/write-undo.ts';
import {
  allocations,
  contacts,
  cultureParents,
  culturePlans,
  cultures as culturesTable,
  diary as diaryTable,
} from '../../server/schema/tables.ts';
import { printOf, withFaultAt } from '../support/faults.ts';
import { makeLine, makeOrder } from '../support/orders.ts';
import { makeCulture, makeEstimate, makePlace, makeSpecies } from '../support/stock.ts';
import { cast, type TestApp, testApp, testNow, testToday } from '../support/test-app.ts';
import { bring, count, csv, diary, file, hiddenOf, smallFiles, stateOf } from './bringing.ts';

const undoPath = '/records/imports/1/undo';
const by = { via: 'page' as const, madeBy: cast.owner.id, madeAt: testNow };
const cultureOf = ({ db }: TestApp, code: string) =>
  db.select().from(culturesTable).where(eq(culturesTable.code, code)).get()!;

const entryOf = ({ db }: TestApp, kind: 'check') =>
  db.select().from(diaryTable).where(eq(diaryTable.kind, kind)).get()!;

/** An installation that has something of its own, so that there is something to be left alone. */
async function furnished() {
  const t = await testApp();
  const species = makeSpecies(t.db, { scientificName: 'Porcellio laevis' });
  const cellar = makePlace(t.db, { kind: 'room', name: 'Cellar', shelfOrder: '001' });
  const own = makeCulture(t.db, {
    code: 'OWN-1',
    speciesId: species.id,
    placeId: cellar.id,
    foundedOn: '2025-01-01',
  });
  appendEntry(t.db, { ...by, cultureId: own.id, onDay: '2025-02-01', kind: 'check' });
  await refreshStale(t.db, { today: testToday, now: t.clock.now, threads: 1 });
  return { ...t, own };
}

async function undone(t: TestApp, expected: number) {
  const asked = await t.owner.get(undoPath);
  const sent = await t.owner.post(undoPath, hiddenOf(asked.text, undoPath));
  expect(sent.status).toBe(expected);
  return { asked, sent };
}

describe('undo', () => {
  it('leaves the database as it was before, estimates too once they are worked out again', async () => {
    const t = await furnished();
    const before = stateOf(t.sqlite);
    await bring(t.db, [
      smallFiles()[0]!,
      file(
        'diary.csv',
        csv([
          ...diary,
          '2025-03-01,OWN-1,seen,9,,',
          '2025-03-02,OWN-1,move,,Attic / Rack 1,',
          '2025-03-03,OWN-1,quarantine,,,',
        ]),
      ),
    ]);
    await refreshStale(t.db, { today: testToday, now: t.clock.now, threads: 1 });
    expect(cultureOf(t, 'OWN-1').status).toBe('quarantine');
    const { asked, sent } = await undone(t, 303);
    expect(asked.text).toContain('2 cultures');
    expect(sent.headers.location).toBe('/records');
    await refreshStale(t.db, { today: testToday, now: t.clock.now, threads: 1 });
    expect(stateOf(t.sqlite)).toEqual(before);
    const page = await t.owner.get('/records/imports/1');
    expect(page.text).toContain('This was undone on');
    expect((await t.owner.get('/records')).text).toContain('undone');
  });

  it('lets the same files in again', async () => {
    const t = await testApp();
    await bring(t.db, smallFiles());
    await undone(t, 303);
    expect([count(t, 'cultures'), count(t, 'diary'), count(t, 'import_prints')]).toEqual([0, 0, 0]);
    const { importId, rows } = await bring(t.db, smallFiles());
    expect([importId, rows]).toEqual([3, 6]);
    expect(count(t, 'cultures')).toBe(2);
  });

  it('happens once, and whole', async () => {
    const t = await testApp();
    await bring(t.db, smallFiles());
    const before = printOf(t.sqlite);
    const work = () => t.db.transaction((tx) => undoImport(tx, [1, 2], { personId: null, now: testNow }));
    for (let at = 1; withFaultAt(t.sqlite, at, work); at += 1) expect(printOf(t.sqlite)).toBe(before);
    expect(count(t, 'cultures')).toBe(0);
    expect((await t.owner.get(undoPath)).status).toBe(409);
    expect((await t.owner.post(undoPath)).status).toBe(409);
  });

  it('leaves an enclosure that a plan or a recipe is for', async () => {
    const t = await furnished();
    await bring(t.db, smallFiles());
    const { enclosureId } = cultureOf(t, 'A-1');
    const plan = { cultureId: t.own.id, what: 'repot', onDay: '2026-12-01', enclosureId } as const;
    const made = { enclosures: 1, madeOn: testToday, afterEntry: 1, madeAt: testNow };
    t.db
      .insert(culturePlans)
      .values({ ...plan, ...made })
      .run();
    await undone(t, 303);
    expect(t.db.select().from(culturePlans).get()?.enclosureId).toBe(enclosureId);
    expect(t.sqlite.pragma('foreign_key_check')).toEqual([]);
  });

  it('leaves what it made where something else uses it by now', async () => {
    const t = await testApp();
    await bring(t.db, smallFiles());
    const { speciesId, enclosureId, placeId } = cultureOf(t, 'A-1');
    makeCulture(t.db, { code: 'LATER', speciesId, enclosureId, placeId });
    await undone(t, 303);
    expect([count(t, 'cultures'), count(t, 'species'), count(t, 'lines')]).toEqual([1, 1, 0]);
    // The place it stands on with the rack and room around it; the home of the species.
    expect([count(t, 'places'), count(t, 'enclosures')]).toEqual([3, 2]);
    expect(t.sqlite.pragma('foreign_key_check')).toEqual([]);
  });

  const later: [string, (t: TestApp) => unknown, string][] = [
    [
      'an entry by hand on its cultures',
      (t) =>
        appendEntry(t.db, { ...by, cultureId: cultureOf(t, 'A-1').id, onDay: '2026-01-01', kind: 'mites' }),
      '1 entries written on its cultures since: <span><a href="/cultures/A-1">',
    ],
    [
      'an entry elsewhere that names one of them',
      (t) =>
        appendEntry(t.db, {
          ...by,
          cultureId: makeCulture(t.db, { code: 'ELSE', speciesId: cultureOf(t, 'A-1').speciesId }).id,
          onDay: '2026-02-01',
          kind: 'addition',
          animals: 3,
          otherCultureId: cultureOf(t, 'A-1').id,
        }),
      '/cultures/ELSE',
    ],
    [
      'a correction of its entries',
      (t) => correctEntry(t.db, entryOf(t, 'check').id, { ...by, onDay: '2025-07-02' }),
      'corrections of its entries',
    ],
    [
      'a child of its cultures',
      (t) => {
        const { id, speciesId } = cultureOf(t, 'A-2');
        const child = makeCulture(t.db, { code: 'CHILD', speciesId, foundedOn: '2026-01-01' });
        t.db.insert(cultureParents).values({ cultureId: child.id, parentId: id, animals: 5 }).run();
      },
      'cultures that were split off its cultures since',
    ],
    [
      'a contact of its cultures',
      (t) =>
        t.db
          .insert(contacts)
          .values({
            onDay: '2026-01-01',
            fromId: cultureOf(t, 'A-1').id,
            toId: cultureOf(t, 'A-2').id,
            kind: 'shared tool',
            note: '',
            madeAt: testNow,
          })
          .run(),
      'contacts written of its cultures since',
    ],
    [
      'a promise to an order',
      (t) => {
        const { id, speciesId } = cultureOf(t, 'A-1');
        makeEstimate(t.db, id);
        const line = makeLine(t.db, makeOrder(t.db).id, speciesId);
        t.db
          .insert(allocations)
          .values({
            orderLineId: line.id,
            cultureId: id,
            groups: 1,
            animals: 14,
            state: 'reserved',
            madeAt: testNow,
          })
          .run();
      },
      '<a href="/orders/1">order 1</a>',
    ],
  ];
  it.each(later)('is refused with clear words while there is %s', async (_what, write, words) => {
    const t = await testApp();
    await bring(t.db, smallFiles());
    write(t);
    const before = stateOf(t.sqlite);
    const asked = await t.owner.get(undoPath);
    expect(asked.text).toContain('this cannot be undone, because later things stand on it');
    expect(asked.text).toContain(words);
    expect(asked.text).not.toContain('>Undo all of it<');
    const sent = await t.owner.post(undoPath);
    expect(sent.status).toBe(409);
    expect(sent.text).toContain('later things stand on it');
    expect(stateOf(t.sqlite)).toEqual(before);
  });

  it('of a later import frees the earlier one', async () => {
    const t = await testApp();
    await bring(t.db, [smallFiles()[0]!]);
    await bring(t.db, [smallFiles()[1]!]);
    expect((await t.owner.post(undoPath)).status).toBe(409);
    expect((await t.owner.post('/records/imports/2/undo')).status).toBe(303);
    expect(count(t, 'cultures')).toBe(2);
    expect((await t.owner.post(undoPath)).status).toBe(303);
    expect(count(t, 'cultures')).toBe(0);
  });

  it('is the owner’s alone, and of an import that is there', async () => {
    const t = await testApp();
    await bring(t.db, smallFiles());
    expect((await t.helper.post(undoPath)).status).toBe(403);
    expect((await t.owner.post(undoPath, {}, { csrf: 'wrong' })).status).toBe(403);
    // The second file of an upload is no import of its own.
    for (const id of ['2', '99', '0', 'x'])
      expect((await t.owner.get(`/records/imports/${id}/undo`)).status).toBe(404);
    expect(count(t, 'cultures')).toBe(2);
  });
});
