import { getTableColumns } from 'drizzle-orm';
import { getTableConfig } from 'drizzle-orm/sqlite-core';
import { describe, expect, it } from 'vitest';
import { appendEntry, correctEntry, withdrawEntry } from '../../server/cultures/queries-diary.ts';
import type { Db } from '../../server/plumbing/open-database.ts';
import { exportedTables, notExported } from '../../server/records/everything.ts';
import { exportText, exportWriters } from '../../server/records/export-files.ts';
import { exportedCultures } from '../../server/records/queries-export.ts';
import { standingEntries } from '../../server/records/queries-there.ts';
import { cultures as culturesTable } from '../../server/schema/tables.ts';
import { readRecords } from '../../shared/records/csv.ts';
import { tableNames } from '../support/contents.ts';
import { makeCustomer, makeLine, makeOrder } from '../support/orders.ts';
import { makeCulture, makePlace, makeSpecies } from '../support/stock.ts';
import { cast, type TestApp, testApp, testNow } from '../support/test-app.ts';
import { bring, count, file, sampleFiles, smallFiles } from './bringing.ts';
import { bytesOf } from './reading.ts';

const textOf = (db: Db, name: string) => exportText(db, name, testNow)!;
const cellsOf = (text: string) =>
  readRecords(text.replace(/^\uFEFF/, ''), ',').records.map((record) => record.cells);
const entriesOf = (db: Db) => [...standingEntries(db)].flat();
/** Cultures and diary of an installation as files that another takes in. */
const filesOf = (db: Db) => [
  file('cultures.csv', bytesOf(textOf(db, 'cultures.csv'))),
  file('diary.csv', bytesOf(textOf(db, 'diary.csv'))),
];

/** Writes one entry of every kind by hand, with everything that an entry can tell, and corrects some. */
function writeByHand(t: TestApp) {
  const species = makeSpecies(t.db, { scientificName: 'Porcellio laevis', commonName: 'milkback' });
  const cellar = makePlace(t.db, { kind: 'room', name: 'Cellar', shelfOrder: '001' });
  const rack = makePlace(t.db, { kind: 'rack', name: 'Rack 1', parentId: cellar.id, shelfOrder: '001.001' });
  const make = (code: string) =>
    makeCulture(t.db, { code, speciesId: species.id, placeId: rack.id, note: '=1+1' });
  const [one, two] = [make('H-1'), make('H-2')];
  const base = { cultureId: one.id, via: 'page' as const, madeBy: cast.owner.id, madeAt: testNow };
  const seen = { youngSeen: true, eggsSeen: false, mouldSeen: false, mitesSeen: true };
  appendEntry(t.db, {
    ...base,
    onDay: '2026-02-01',
    kind: 'check',
    surface: 'dry',
    springtails: 'few',
    ...seen,
    deaths: 2,
  });
  const count7 = JSON.stringify({ method: 'visible', counted: 7, detection: { alpha: 3.5, beta: 9 } });
  const seven = appendEntry(t.db, { ...base, onDay: '2026-02-02', kind: 'count', countInput: count7 });
  correctEntry(t.db, seven, {
    ...base,
    onDay: '2026-02-03',
    countInput: count7.replace('7', '70'),
    note: 'mistyped',
  });
  const twice = appendEntry(t.db, {
    ...base,
    onDay: '2026-02-04',
    kind: 'water',
    waterMl: 12.5,
    note: 'too much; "wet"',
  });
  withdrawEntry(t.db, twice, { madeBy: cast.helper.id, madeAt: testNow });
  const moved = { animals: 5, adults: 3, juveniles: 2 };
  appendEntry(t.db, { ...base, onDay: '2026-02-05', kind: 'harvest', ...moved, otherCultureId: two.id });
  appendEntry(t.db, {
    ...base,
    cultureId: two.id,
    onDay: '2026-02-05',
    kind: 'addition',
    ...moved,
    otherCultureId: one.id,
  });
  appendEntry(t.db, {
    ...base,
    onDay: '2026-02-06',
    kind: 'feed',
    food: 'flies, many',
    otherCultureId: two.id,
  });
  appendEntry(t.db, {
    ...base,
    onDay: '2026-02-07',
    kind: 'die-off',
    survivalMedian: 0.5,
    survivalSdLog: 0.2,
  });
  appendEntry(t.db, { ...base, onDay: '2026-02-08', kind: 'move', placeId: cellar.id, note: '-4' });
  for (const kind of ['fruit-in', 'fruit-out', 'mites', 'mould', 'quarantine', 'release', 'note'] as const)
    appendEntry(t.db, { ...base, onDay: '2026-02-09', kind, note: `a note on\n${kind}` });
  appendEntry(t.db, { ...base, cultureId: two.id, onDay: '2026-03-01', kind: 'retirement', note: 'gone' });
}

describe('the export brought into an empty installation', () => {
  it('gives the same cultures and the same standing diary, for a breeder’s whole records', async () => {
    const t = await testApp();
    await bring(t.db, sampleFiles());
    const other = await testApp();
    const { look } = await bring(other.db, filesOf(t.db));
    expect(look.reading.leftOut).toEqual([]);
    expect(exportedCultures(other.db)).toEqual(exportedCultures(t.db));
    expect(entriesOf(other.db)).toEqual(entriesOf(t.db));
    expect([count(other, 'cultures'), count(other, 'diary')]).toEqual([71, 6139]);
    // The very same files again, and in the installation they came from, add nothing.
    const here = await testApp();
    await bring(here.db, sampleFiles());
    const { lookAt } = await import('../../server/records/look.ts');
    const again = await lookAt(here.db, { files: filesOf(t.db), choices: {}, today: '2026-11-25' });
    expect(again.reading.files.map((one) => one.counts.accepted)).toEqual([0, 0]);
  });

  it('gives the same for what was written by hand, of every kind, as it stands after corrections', async () => {
    const t = await testApp();
    writeByHand(t);
    const files = filesOf(t.db);
    const other = await testApp();
    const name = t.db.select().from(culturesTable).get() && [...exportedCultures(t.db)][0]!.enclosure;
    const boxes = [...new Set(exportedCultures(t.db).map((culture) => culture.enclosure))];
    const choices = { enclosures: boxes.map((box) => ({ name: box, litres: 6 })) };
    expect(name).toMatch(/^Box/);
    await bring(other.db, files, { choices });
    expect(exportedCultures(other.db)).toEqual(exportedCultures(t.db));
    expect(entriesOf(other.db)).toEqual(entriesOf(t.db));
    // In the installation it came from, every entry is known, by hand or not.
    const { lookAt } = await import('../../server/records/look.ts');
    const again = await lookAt(t.db, { files, choices, today: '2026-11-25' });
    expect(again.reading.files.map((one) => one.counts.accepted)).toEqual([0, 0]);
  });
});

describe('files of the export', () => {
  it('are offered to the owner alone, each under its name', async () => {
    const t = await testApp();
    const page = await t.owner.get('/records');
    for (const name of Object.keys(exportWriters)) {
      expect(page.text, name).toContain(`href="/records/export/${name}"`);
      const answer = await t.owner.get(`/records/export/${name}`);
      expect(answer.headers['content-disposition'], name).toBe(`attachment; filename="${name}"`);
      expect(answer.headers['cache-control']).toBe('no-store');
      expect((await t.helper.get(`/records/export/${name}`)).status).toBe(403);
    }
    for (const name of ['', 'x.csv', '__proto__', 'constructor', '..%2Fpackage.json'])
      expect((await t.owner.get(`/records/export/${name}`)).status, name).toBe(404);
  });

  it('hold no cell that a spreadsheet would run, and leave numbers alone', async () => {
    const t = await testApp();
    const customer = makeCustomer(t.db, { name: '=cmd|x', note: '+1 555 0100', city: '@home' });
    const species = makeSpecies(t.db, {
      scientificName: 'Exemplum tabulae',
      cautions: '-1+1',
      priceMinor: 1250,
    });
    makeLine(t.db, makeOrder(t.db, { customerId: customer.id, note: '\t=1' }).id, species.id);
    for (const name of Object.keys(exportWriters).filter((one) => one.endsWith('.csv'))) {
      for (const cell of cellsOf(textOf(t.db, name)).flat())
        if (!/^-?\d+(\.\d+)?$/.test(cell)) expect(/^[=+\-@\t\r]/.test(cell), `${name}: ${cell}`).toBe(false);
    }
    const [head, row] = cellsOf(textOf(t.db, 'customers.csv'));
    expect(row![head!.indexOf('name')]).toBe("'=cmd|x");
    const lines = cellsOf(textOf(t.db, 'order-lines.csv'));
    expect(lines[1]).toEqual(['1', 'Exemplum tabulae', '1', '10', '2', '2', '1250', 'EUR', 'no', 'no']);
  });

  it('mark what was corrected and what was taken out', async () => {
    const t = await testApp();
    writeByHand(t);
    const [head, ...rows] = cellsOf(textOf(t.db, 'diary-with-corrections.csv'));
    const shown = rows.map((row) => [
      row[head!.indexOf('What')],
      row[head!.indexOf('Number')],
      row[head!.indexOf('State')],
    ]);
    expect(shown.filter(([, , state]) => state !== 'stands')).toEqual([
      ['visible count', '7', 'corrected'],
      ['water', '12.5', 'taken out'],
      ['water', '12.5', 'takes out'],
    ]);
    expect(shown).toContainEqual(['visible count', '70', 'stands']);
    expect(cellsOf(textOf(t.db, 'diary.csv')).filter((row) => row[2] === 'water')).toEqual([]);
  });

  it('tell no secret', async () => {
    const t = await testApp();
    t.sqlite.prepare("UPDATE people SET password_hash = 'planted-secret'").run();
    for (const name of Object.keys(exportWriters)) {
      const text = textOf(t.db, name);
      expect(text, name).not.toContain('planted-secret');
      expect(/password.?hash|token/i.test(text.slice(0, 2000)), name).toBe(false);
    }
  });

  it('as JSON hold every table but those with a reason, with every column', async () => {
    const t = await testApp();
    const exported = exportedTables.map((table) => getTableConfig(table).name);
    const there = tableNames(t.sqlite).filter(
      (name) => name !== 'migrations' && !/^(customer|culture|species|place)_words/.test(name),
    );
    expect([...exported, ...Object.keys(notExported)].sort()).toEqual(there.sort());
    await bring(t.db, smallFiles());
    const all = JSON.parse(textOf(t.db, 'everything.json'));
    for (const table of exportedTables) {
      const { name } = getTableConfig(table);
      expect(all[name], name).toHaveLength(count(t, name));
      const secret = ['passwordHash', 'salt'];
      const columns = Object.keys(getTableColumns(table)).filter((column) => !secret.includes(column));
      if (all[name].length > 0) expect(Object.keys(all[name][0]).sort(), name).toEqual(columns.sort());
    }
    expect(all.diary).toHaveLength(4);
  });
});
