import { and, asc, eq, sql } from 'drizzle-orm';
import type { LineForm } from '../../shared/lines/form.ts';
import type { Db } from '../plumbing/open-database.ts';
import { lines, species } from '../schema/tables.ts';

export type Line = typeof lines.$inferSelect;

// Written out: a subquery's columns must keep the names of their tables.
const culturesNow = sql<number>`(SELECT count(*) FROM cultures
  WHERE cultures.line_id = lines.id AND cultures.status <> 'retired')`;
const culturesEver = sql<number>`(SELECT count(*) FROM cultures WHERE cultures.line_id = lines.id)`;

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
      cultures: culturesNow,
    })
    .from(lines)
    .innerJoin(species, eq(species.id, lines.speciesId))
    .where(speciesId === null ? undefined : eq(lines.speciesId, speciesId))
    .orderBy(asc(species.scientificName), asc(lines.name))
    .all();
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

export function insertLine(tx: Db, values: LineForm): number {
  return tx.insert(lines).values(values).returning({ id: lines.id }).get().id;
}

export function updateLine(tx: Db, id: number, values: LineForm) {
  tx.update(lines).set(values).where(eq(lines.id, id)).run();
}
