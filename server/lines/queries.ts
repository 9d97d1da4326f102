import { and, asc, eq, inArray, isNull, sql } from 'drizzle-orm';
import type { LineForm } from '../../shared/lines/form.ts';
import type { Db } from '../plumbing/open-database.ts';
import { cultures, lines, species } from '../schema/tables.ts';

export type Line = typeof lines.$inferSelect;

// Written out: a subquery's columns must keep the names of their tables.
const culturesNow = sql<number>`(SELECT count(*) FROM cultures
  WHERE cultures.line_id = lines.id AND cultures.status <> 'retired')`;
const culturesEver = sql<number>`(SELECT count(*) FROM cultures WHERE cultures.line_id = lines.id)`;

/** The names of the lines that one is marked never to be mixed with. */
const neverWith = sql<
  string | null
>`(SELECT group_concat(other.name, ', ' ORDER BY other.name) FROM lines_apart
  JOIN lines other ON other.id = lines_apart.line_id + lines_apart.other_line_id - lines.id
  WHERE lines.id IN (lines_apart.line_id, lines_apart.other_line_id))`;

/** Lines by species and name, of one species or of all. */
export function listLines(db: Db, speciesId: number | null = null) {
  return db
    .select({
      id: lines.id,
      speciesId: lines.speciesId,
      scientificName: species.scientificName,
      commonName: species.commonName,
      name: lines.name,
      locality: lines.locality,
      note: lines.note,
      keptPure: lines.keptPure,
      neverWith,
      cultures: culturesNow,
    })
    .from(lines)
    .innerJoin(species, eq(species.id, lines.speciesId))
    .where(speciesId === null ? undefined : eq(lines.speciesId, speciesId))
    .orderBy(asc(species.scientificName), asc(lines.name))
    .all();
}

/** The cultures that these lines have or had, by line; null when they are more than `atMost`. */
export function culturesOfLines(db: Db, lineIds: readonly number[], atMost: number) {
  const rows = db
    .select({ id: cultures.id, code: cultures.code, lineId: cultures.lineId })
    .from(cultures)
    .where(and(inArray(cultures.lineId, [...lineIds]), isNull(cultures.takenBackAt)))
    .limit(atMost + 1)
    .all();
  return rows.length > atMost ? null : rows;
}

/** A line with how many cultures it ever had: those decide whether its species may still change. */
export function readLine(db: Db, id: number) {
  const row = db.select({ line: lines, cultures: culturesEver }).from(lines).where(eq(lines.id, id)).get();
  return row && { ...row.line, cultures: row.cultures };
}

export function lineNamed(db: Db, speciesId: number, name: string): Line | undefined {
  return db
    .select()
    .from(lines)
    .where(and(eq(lines.speciesId, speciesId), eq(lines.name, name)))
    .get();
}

type LineColumns = Omit<LineForm, 'neverWith' | 'keptPure'> & Partial<Pick<LineForm, 'keptPure'>>;

const columnsOf = ({ speciesId, name, locality, note, keptPure }: LineColumns) => ({
  speciesId,
  name,
  locality,
  note,
  keptPure,
});

export function insertLine(tx: Db, values: LineColumns): number {
  return tx.insert(lines).values(columnsOf(values)).returning({ id: lines.id }).get().id;
}

export function updateLine(tx: Db, id: number, values: LineColumns) {
  tx.update(lines).set(columnsOf(values)).where(eq(lines.id, id)).run();
}
