import { and, asc, eq, getViewSelectedFields, gt, gte, isNull, or, sql } from 'drizzle-orm';
import type { Entry } from '../../shared/records/entries.ts';
import { diaryContent, Occurrences } from '../../shared/records/prints.ts';
import type { Db } from '../plumbing/open-database.ts';
import { cultures, importPrints, people, places, standingDiary } from '../schema/tables.ts';
import { entryOf, type Names } from './entry-of-row.ts';
import { hashPrint } from './hash-print.ts';

/** The names that entries point at, looked up once. */
export function readNames(db: Db): Names {
  const codes = new Map(
    db
      .select({ id: cultures.id, code: cultures.code })
      .from(cultures)
      .all()
      .map(({ id, code }) => [id, code]),
  );
  const { id, parentId, name } = places;
  const byId = new Map(
    db
      .select({ id, parentId, name })
      .from(places)
      .all()
      .map((place) => [place.id, place]),
  );
  const pathOf = (placeId: number): string[] => {
    const place = byId.get(placeId);
    if (!place) return [];
    return [...(place.parentId === null ? [] : pathOf(place.parentId)), place.name];
  };
  return { codeOf: (cultureId) => codes.get(cultureId) ?? '', pathOf };
}

export type StandingRow = { on: string; code: string; by: string | null; entry: Entry };

const atOnce = 200;

/** The entries that stand, day by day, two hundred at a time: of all cultures, or of one. */
export function* standingEntries(db: Db, onlyCulture?: number): Generator<StandingRow[]> {
  const names = readNames(db);
  let last: Place | null = null;
  for (;;) {
    const rows = pageOfStanding(db, onlyCulture, last);
    last = rows.at(-1) ?? null;
    if (last === null) return;
    yield rows.map((row) => ({
      on: row.onDay,
      code: names.codeOf(row.cultureId),
      by: row.by,
      entry: entryOf(row, names),
    }));
  }
}

type Place = { onDay: string; position: number };

function pageOfStanding(db: Db, onlyCulture: number | undefined, after: Place | null) {
  const position = sql<number>`coalesce(${standingDiary.rootId}, ${standingDiary.id})`;
  const by = sql<string | null>`coalesce(${standingDiary.saidBy}, ${people.name})`;
  const later =
    after &&
    or(
      gt(standingDiary.onDay, after.onDay),
      and(eq(standingDiary.onDay, after.onDay), gt(position, after.position)),
    );
  return db
    .select({ ...getViewSelectedFields(standingDiary), position, by })
    .from(standingDiary)
    .leftJoin(people, eq(people.id, standingDiary.madeBy))
    .where(
      and(
        onlyCulture === undefined ? undefined : eq(standingDiary.cultureId, onlyCulture),
        // for the index, or every page would begin to read at the first day
        after ? gte(standingDiary.onDay, after.onDay) : undefined,
        later ?? undefined,
      ),
    )
    .orderBy(asc(standingDiary.onDay), asc(position))
    .limit(atOnce)
    .all();
}

/** Cultures with entries that no import brought: somebody may have written by hand what a file tells as well. */
function culturesByHand(db: Db): number[] {
  return db
    .selectDistinct({ id: standingDiary.cultureId })
    .from(standingDiary)
    .where(isNull(standingDiary.importId))
    .all()
    .map((row) => row.id);
}

const breath = () => new Promise<void>((done) => setImmediate(done));

/**
 * Hashes of the prints of every row that the records hold: those that imports brought, and those that entries written
 * by hand would have. Long diaries are gone through in pieces, so that pages are answered meanwhile.
 */
export async function hashesThere(db: Db): Promise<string[]> {
  const hashes = db
    .select({ print: importPrints.print })
    .from(importPrints)
    .all()
    .map((row) => row.print);
  for (const cultureId of culturesByHand(db)) {
    const occurrences = new Occurrences();
    for (const rows of standingEntries(db, cultureId)) {
      for (const row of rows) hashes.push(hashPrint(numberedContent(row, occurrences)));
      await breath();
    }
  }
  return hashes;
}

/** As `numbered` in shared/records/prints.ts gives it, for what a row means alone. */
function numberedContent(row: StandingRow, occurrences: Occurrences): string {
  const content = diaryContent(row);
  return `${content}#${occurrences.next(`content ${content}`)}`;
}
