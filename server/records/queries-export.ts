import { and, asc, desc, eq, getTableColumns, gte, sql } from 'drizzle-orm';
import { alias, type SQLiteTable } from 'drizzle-orm/sqlite-core';
import type { CultureRow } from '../../shared/records/entries.ts';
import type { Db } from '../plumbing/open-database.ts';
import * as tables from '../schema/tables.ts';
import { entryOf } from './entry-of-row.ts';
import { readKnown, readStock } from './queries-stock.ts';
import { readNames } from './queries-there.ts';

const {
  cultures,
  diary,
  enclosures,
  lines,
  orderLines,
  orders,
  customers,
  people,
  species,
  standingContacts,
} = tables;

export type Cell = string | number | null;
export type Sheet = { header: string[]; rows: Cell[][] };

/** 'growthPerWeekMedian' -> 'growth per week median'. */
const wordsOf = (name: string) => name.replace(/[A-Z0-9]+/g, (part) => ` ${part.toLowerCase()}`);

/** Instants are for people in a spreadsheet: ISO 8601, UTC. Everything else is as it is stored. */
function cellOf(name: string, value: unknown): Cell {
  if (value === null || value === undefined) return null;
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value === 'number') return /At$/.test(name) ? new Date(value).toISOString() : value;
  return String(value);
}

/** Rows as a sheet, in the order of their columns. */
export function sheetOf(rows: readonly Record<string, unknown>[], names: readonly string[]): Sheet {
  return {
    header: names.map(wordsOf),
    rows: rows.map((row) => names.map((name) => cellOf(name, row[name]))),
  };
}

/** A whole table as a sheet; columns that are secrets or mean nothing outside are left out. */
export function tableSheet(db: Db, table: SQLiteTable, without: readonly string[] = []): Sheet {
  const names = Object.keys(getTableColumns(table)).filter((name) => !without.includes(name));
  return sheetOf(db.select().from(table).all() as Record<string, unknown>[], names);
}

/** Cultures as `culturesCsv` writes them, parents before children. */
export function exportedCultures(db: Db): Omit<CultureRow, 'line' | 'prints'>[] {
  const names = readNames(db);
  const parents = new Map(readKnown(db, readStock(db)).map((known) => [known.code, known.parents]));
  const ended = sql<string | null>`(SELECT max(on_day) FROM standing_diary
    WHERE standing_diary.culture_id = cultures.id AND standing_diary.kind = 'retirement')`;
  return db
    .select({ culture: cultures, species, line: lines.name, enclosure: enclosures.name, ended })
    .from(cultures)
    .innerJoin(species, eq(species.id, cultures.speciesId))
    .innerJoin(enclosures, eq(enclosures.id, cultures.enclosureId))
    .leftJoin(lines, eq(lines.id, cultures.lineId))
    .orderBy(asc(cultures.foundedOn), asc(cultures.id))
    .all()
    .map(({ culture, species: { scientificName, commonName }, line, enclosure, ended: endedOn }) => ({
      code: culture.code,
      species: scientificName,
      commonName: commonName === '' ? null : commonName,
      morph: culture.morph,
      lineName: line,
      enclosure,
      place: culture.placeId === null ? [] : names.pathOf(culture.placeId),
      foundedOn: culture.foundedOn,
      origin: culture.origin,
      parents: parents.get(culture.code) ?? [],
      foundingAnimals: culture.foundingAnimals,
      foundingSdLog: culture.foundingSdLog,
      status: culture.status,
      endedOn: culture.status === 'retired' ? endedOn : null,
      note: culture.note,
    }));
}

/** Every entry that was ever written, with what became of it. */
const diaryPosition = sql<number>`coalesce(${diary.rootId}, ${diary.id})`;
const entriesAtOnce = 400;
type DiaryPlace = { onDay: string; position: number; id: number };

/** The next some hundred entries after one, by day, then in the order of the diary. */
function pageOfDiary(db: Db, after: DiaryPlace | null) {
  const later = alias(diary, 'later');
  return db
    .select({
      entry: diary,
      position: diaryPosition,
      by: people.name,
      laterId: later.id,
      laterWithdraws: later.withdrawn,
    })
    .from(diary)
    .leftJoin(people, eq(people.id, diary.madeBy))
    .leftJoin(later, eq(later.replacesId, diary.id))
    .where(
      after
        ? and(
            gte(diary.onDay, after.onDay),
            sql`(${diary.onDay}, ${diaryPosition}, ${diary.id}) > (${after.onDay}, ${after.position}, ${after.id})`,
          )
        : undefined,
    )
    .orderBy(asc(diary.onDay), asc(diaryPosition), asc(diary.id))
    .limit(entriesAtOnce)
    .all();
}

export function* wholeDiary(db: Db) {
  const names = readNames(db);
  let rows = pageOfDiary(db, null);
  while (rows.length > 0) {
    for (const { entry, by, laterId, laterWithdraws } of rows)
      yield {
        row: entry,
        code: names.codeOf(entry.cultureId),
        entry: entryOf(entry, names),
        writtenBy: by,
        state: stateOf(entry.withdrawn, laterId, laterWithdraws),
      };
    const last = rows.at(-1)!;
    rows = pageOfDiary(db, { onDay: last.entry.onDay, position: last.position, id: last.entry.id });
  }
}

function stateOf(withdrawn: boolean, laterId: number | null, laterWithdraws: boolean | null): string {
  if (withdrawn) return 'takes out';
  if (laterId === null) return 'stands';
  return laterWithdraws ? 'taken out' : 'corrected';
}

export function linesSheet(db: Db): Sheet {
  const rows = db
    .select({
      species: species.scientificName,
      name: lines.name,
      locality: lines.locality,
      keptPure: lines.keptPure,
      note: lines.note,
    })
    .from(lines)
    .innerJoin(species, eq(species.id, lines.speciesId))
    .orderBy(asc(species.scientificName), asc(lines.name))
    .all();
  return sheetOf(rows, ['species', 'name', 'locality', 'keptPure', 'note']);
}

/** What went from one culture to another besides what the diary tells. */
export function contactsSheet(db: Db): Sheet {
  const names = readNames(db);
  const rows = db
    .select()
    .from(standingContacts)
    .orderBy(asc(standingContacts.onDay), asc(standingContacts.id))
    .all()
    .map(({ fromId, toId, ...rest }) => ({ ...rest, from: names.codeOf(fromId), to: names.codeOf(toId) }));
  return sheetOf(rows, ['onDay', 'from', 'to', 'kind', 'note', 'madeAt']);
}

export function ordersSheet(db: Db): Sheet {
  const { number, state, currency, postageMinor, dispatchOn, sentOn, note, madeAt } = orders;
  const rows = db
    .select({
      number,
      customer: customers.name,
      state,
      currency,
      postageMinor,
      dispatchOn,
      sentOn,
      note,
      madeAt,
    })
    .from(orders)
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .orderBy(desc(orders.number))
    .all();
  return sheetOf(rows, [
    'number',
    'customer',
    'state',
    'currency',
    'postageMinor',
    'dispatchOn',
    'sentOn',
    'note',
    'madeAt',
  ]);
}

export function orderLinesSheet(db: Db): Sheet {
  const { groups, groupAdults, groupJuveniles, groupExtras, priceMinor, separateLines, withdrawn } =
    orderLines;
  const rows = db
    .select({
      order: orders.number,
      species: species.scientificName,
      groups,
      groupAdults,
      groupJuveniles,
      groupExtras,
      priceMinor,
      currency: orders.currency,
      separateLines,
      withdrawn,
    })
    .from(orderLines)
    .innerJoin(orders, eq(orders.id, orderLines.orderId))
    .innerJoin(species, eq(species.id, orderLines.speciesId))
    .orderBy(desc(orders.number), asc(orderLines.position))
    .all();
  return sheetOf(rows, [
    'order',
    'species',
    'groups',
    'groupAdults',
    'groupJuveniles',
    'groupExtras',
    'priceMinor',
    'currency',
    'separateLines',
    'withdrawn',
  ]);
}
