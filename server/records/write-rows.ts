import { sql } from 'drizzle-orm';
import type { CultureRow, DiaryRow, PlainKind, Prints } from '../../shared/records/entries.ts';
import { placeKey } from '../../shared/records/place-plan.ts';
import { markOutdated } from '../counts/queries-outdated.ts';
import { addCulture } from '../cultures/queries.ts';
import { applyStanding, forgetFrom } from '../cultures/queries-diary.ts';
import type { Db } from '../plumbing/open-database.ts';
import { cultureParents, diary, importPrints } from '../schema/tables.ts';
import { columnsOf, type EntryColumns } from './columns-of-entry.ts';
import { hashPrint } from './hash-print.ts';
import type { By } from './queries-drafts.ts';
import type { Standing } from './queries-touched.ts';
import { enclosureKey, lineKey, type StockIds } from './write-stock.ts';

/** A culture of the records, or one that has just been made. */
export type Booked = { id: number; detection: { alpha: number; beta: number } };
export type Book = Map<string, Booked>;

export type Importing = By & { importId: number };

/** Founds the cultures, parents first, and puts them into the book. */
export function writeCultures(
  tx: Db,
  rows: readonly CultureRow[],
  o: { book: Book; ids: StockIds; speciesKey: (name: string) => string; importing: Importing },
): void {
  const { personId, now, importId } = o.importing;
  for (const row of rows) {
    const { id: speciesId, detection } = o.ids.speciesByKey.get(o.speciesKey(row.species))!;
    const { code, morph, foundedOn, origin, foundingAnimals, foundingSdLog, note } = row;
    const id = addCulture(tx, {
      code,
      speciesId,
      morph,
      lineId: row.lineName === null ? null : o.ids.lineByName.get(lineKey(row.lineName, speciesId))!,
      enclosureId: o.ids.enclosureByName.get(enclosureKey(row.enclosure))!,
      placeId: row.place.length === 0 ? null : o.ids.placeByKey.get(placeKey(row.place))!,
      foundedOn,
      origin,
      foundingAnimals,
      foundingSdLog,
      // The diary says how it stands; it is written next.
      status: 'active',
      note,
      importId,
      madeBy: personId,
      madeAt: now,
    });
    o.book.set(code, { id, detection });
    for (const { code: parent, animals } of row.parents)
      tx.insert(cultureParents)
        .values({ cultureId: id, parentId: o.book.get(parent)!.id, animals })
        .run();
  }
}

const columnNames = [
  'cultureId',
  'onDay',
  'kind',
  'animals',
  'adults',
  'juveniles',
  'otherCultureId',
  'seedingMl',
  'surface',
  'springtails',
  'springtailsWhere',
  'feedersLeft',
  'youngSeen',
  'eggsSeen',
  'mouldSeen',
  'mitesSeen',
  'deaths',
  'countInput',
  'wording',
  'waterMl',
  'food',
  'survivalMedian',
  'survivalSdLog',
  'placeId',
  'note',
  'importId',
  'saidBy',
] as const satisfies (keyof typeof diary.$inferInsert)[];
const nothing = Object.fromEntries(columnNames.map((name) => [name, null]));

/** One statement for all rows: a diary has thousands. */
function prepareEntry(tx: Db, { personId, now }: By) {
  // As SQL, not as the column's own parameter: that would turn a yes-or-no which is not told into a no.
  const open = Object.fromEntries(columnNames.map((name) => [name, sql`${sql.placeholder(name)}`]));
  return tx
    .insert(diary)
    .values({
      ...(open as unknown as typeof diary.$inferInsert),
      via: 'import',
      withdrawn: false,
      madeBy: personId,
      madeAt: now,
    })
    .prepare();
}

/** SQLite knows 1 and 0 in place of yes and no. */
const plain = (row: Record<string, unknown>) =>
  Object.fromEntries(
    Object.entries(row).map(([name, value]) => [name, typeof value === 'boolean' ? Number(value) : value]),
  );

type EntryToWrite = EntryColumns & { cultureId: number; onDay: string; saidBy: string | null };

/** Writes the entries in their order; the importing of a row is that of the file which tells it. */
export function writeEntries(
  tx: Db,
  rows: readonly DiaryRow[],
  o: { book: Book; ids: StockIds; importingOf: (file: DiaryRow['file']) => Importing },
): void {
  const statement = prepareEntry(tx, o.importingOf('diary'));
  const cultureId = (code: string) => o.book.get(code)!.id;
  const placeId = (path: readonly string[]) => o.ids.placeByKey.get(placeKey(path))!;
  for (const row of rows) {
    const { id, detection } = o.book.get(row.code)!;
    const entry: EntryToWrite = {
      ...columnsOf(row.entry, { cultureId, placeId, detection }),
      cultureId: id,
      onDay: row.on,
      saidBy: row.by,
    };
    const { importId } = o.importingOf(row.file);
    statement.run(plain({ ...nothing, ...entry, importId }));
  }
}

const whyStanding = 'As the list of cultures says.';

/** What the list says of how a culture stands and its diary does not: the diary is the record, so it is told there. */
export function standingRows(cultures: readonly CultureRow[], rows: readonly DiaryRow[]): DiaryRow[] {
  const last = new Map<string, { on: string; standing: PlainKind | null }>();
  for (const { code, on, entry } of rows) {
    const isStanding = ['quarantine', 'release', 'retirement'].includes(entry.kind);
    const before = last.get(code)?.standing ?? null;
    last.set(code, { on, standing: isStanding ? (entry.kind as PlainKind) : before });
  }
  return cultures.flatMap((culture) => {
    const { code, status, line, foundedOn, prints } = culture;
    const { on = foundedOn, standing = null } = last.get(code) ?? {};
    const kind: PlainKind | null =
      status === 'retired' ? 'retirement' : status === 'quarantine' ? 'quarantine' : null;
    if (kind === null || kind === standing) return [];
    const day = kind === 'retirement' ? (culture.endedOn ?? on) : on;
    return [{ file: 'cultures', line, on: day, code, by: null, entry: { kind, note: whyStanding }, prints }];
  });
}

/** Keeps the prints, so that the same rows are known again. */
export function writePrints(tx: Db, prints: Iterable<readonly [Prints, number]>): void {
  const statement = tx
    .insert(importPrints)
    .values({
      print: sql.placeholder('print') as unknown as string,
      importId: sql.placeholder('importId') as unknown as number,
    })
    .onConflictDoNothing()
    .prepare();
  for (const [{ content, source }, importId] of prints) {
    statement.run({ print: hashPrint(content), importId });
    statement.run({ print: hashPrint(source), importId });
  }
}

/** Lets estimates and standing follow what was written: estimates are worked out anew later, in threads. */
export function afterEntries(
  tx: Db,
  rows: readonly DiaryRow[],
  book: Book,
  touched: readonly Standing[],
): void {
  const firstDay = new Map<number, string>();
  const stands = new Set<number>();
  for (const { code, on, entry } of rows) {
    const { id } = book.get(code)!;
    if (!firstDay.has(id) || on < firstDay.get(id)!) firstDay.set(id, on);
    if (['move', 'quarantine', 'release', 'retirement'].includes(entry.kind)) stands.add(id);
  }
  for (const { cultureId } of touched) forgetFrom(tx, cultureId, firstDay.get(cultureId)!, 0);
  markOutdated(
    tx,
    touched.map(({ cultureId }) => cultureId),
  );
  for (const id of stands) applyStanding(tx, id);
}
