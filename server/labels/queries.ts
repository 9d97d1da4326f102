import { and, asc, eq, inArray, ne, type SQL, sql } from 'drizzle-orm';
import type { LabelFilter, StoredSheet } from '../../shared/labels/form.ts';
import { mostLabels } from '../../shared/labels/form.ts';
import type { Db } from '../plumbing/open-database.ts';
import { cultures, labelPrints, labelSheets, lines, places, species } from '../schema/tables.ts';

export type LabelSheet = typeof labelSheets.$inferSelect;

const byNumber = new Intl.Collator('en', { numeric: true });

export function listSheets(db: Db): LabelSheet[] {
  return db
    .select()
    .from(labelSheets)
    .all()
    .sort((a, b) => byNumber.compare(a.name, b.name));
}

export const readSheet = (db: Db, id: number): LabelSheet | undefined =>
  db.select().from(labelSheets).where(eq(labelSheets.id, id)).get();

export const sheetNamed = (db: Db, name: string): LabelSheet | undefined =>
  db.select().from(labelSheets).where(eq(labelSheets.name, name)).get();

export function insertSheet(tx: Db, values: StoredSheet): number {
  return tx
    .insert(labelSheets)
    .values({ ...values, nextLabel: 1 })
    .returning({ id: labelSheets.id })
    .get().id;
}

export function updateSheet(tx: Db, id: number, values: Partial<LabelSheet>) {
  tx.update(labelSheets).set(values).where(eq(labelSheets.id, id)).run();
}

export function deleteSheet(tx: Db, id: number) {
  tx.delete(labelSheets).where(eq(labelSheets.id, id)).run();
}

/** Whether a label was printed that bears the code the culture has now. */
const hasLabel = sql<number>`EXISTS (SELECT 1 FROM label_prints
  WHERE label_prints.culture_id = cultures.id AND label_prints.code = cultures.code)`;

function wanted(filter: LabelFilter): SQL | undefined {
  if (filter.only) return inArray(cultures.id, filter.only);
  return and(
    ne(cultures.status, 'retired'),
    filter.species ? eq(cultures.speciesId, filter.species) : undefined,
    filter.place
      ? sql`${places.shelfOrder} LIKE (SELECT shelf_order || '%' FROM places WHERE id = ${filter.place})`
      : undefined,
    filter.which === 'new' ? sql`NOT ${hasLabel}` : undefined,
  );
}

/** Cultures that may want a label, in the order one walks past them; one more than can be printed at once. */
export function culturesForLabels(db: Db, filter: LabelFilter) {
  return db
    .select({
      id: cultures.id,
      code: cultures.code,
      scientificName: species.scientificName,
      morph: cultures.morph,
      line: lines.name,
      place: places.fullName,
      hasLabel,
    })
    .from(cultures)
    .innerJoin(species, eq(species.id, cultures.speciesId))
    .leftJoin(lines, eq(lines.id, cultures.lineId))
    .leftJoin(places, eq(places.id, cultures.placeId))
    .where(wanted(filter))
    .orderBy(asc(sql`coalesce(${places.shelfOrder}, '~')`), asc(cultures.code))
    .limit(mostLabels + 1)
    .all();
}
export type CultureForLabel = ReturnType<typeof culturesForLabels>[number];

export function markPrinted(
  tx: Db,
  printed: readonly Pick<CultureForLabel, 'id' | 'code'>[],
  by: { personId: string; now: number },
) {
  for (const { id, code } of printed)
    tx.insert(labelPrints).values({ cultureId: id, code, printedBy: by.personId, printedAt: by.now }).run();
}

/** The longest code that is in use, for judging a sheet before anything is printed on it. */
export function longestCode(db: Db): string | null {
  return (
    db
      .select({ code: cultures.code })
      .from(cultures)
      .where(ne(cultures.status, 'retired'))
      .orderBy(sql`length(${cultures.code}) DESC`, asc(cultures.code))
      .limit(1)
      .get()?.code ?? null
  );
}

/** The culture that a scanned code belongs to: the one that bears it, or else the only one that ever had such a label. */
export function cultureOfLabel(db: Db, code: string) {
  const columns = { code: cultures.code, status: cultures.status };
  const now = db.select(columns).from(cultures).where(eq(cultures.code, code)).get();
  if (now) return now;
  const once = db
    .selectDistinct(columns)
    .from(labelPrints)
    .innerJoin(cultures, eq(cultures.id, labelPrints.cultureId))
    .where(eq(labelPrints.code, code))
    .limit(2)
    .all();
  return once.length === 1 ? once[0] : undefined;
}
