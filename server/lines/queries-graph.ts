import { and, eq, isNotNull, isNull, sql } from 'drizzle-orm';
import { alias } from 'drizzle-orm/sqlite-core';
import type { Db } from '../plumbing/open-database.ts';
import {
  cultureEstimates,
  cultureParents,
  cultures,
  lines,
  species,
  standingDiary,
} from '../schema/tables.ts';

/** Every culture that a species ever had, with what is known of it now. */
export function graphCultures(db: Db, speciesId: number) {
  return db
    .select({
      id: cultures.id,
      code: cultures.code,
      status: cultures.status,
      origin: cultures.origin,
      foundedOn: cultures.foundedOn,
      foundingAnimals: cultures.foundingAnimals,
      lineId: cultures.lineId,
      line: lines.name,
      median: cultureEstimates.median,
      lower: cultureEstimates.lower,
      upper: cultureEstimates.upper,
      health: cultureEstimates.health,
    })
    .from(cultures)
    .leftJoin(lines, eq(lines.id, cultures.lineId))
    .leftJoin(cultureEstimates, eq(cultureEstimates.cultureId, cultures.id))
    .where(and(eq(cultures.speciesId, speciesId), isNull(cultures.takenBackAt)))
    .orderBy(cultures.id)
    .all();
}
export type GraphCultureRow = ReturnType<typeof graphCultures>[number];

/** Which culture was split from which, and with how many animals. */
export function graphSplits(db: Db, speciesId: number) {
  const parent = alias(cultures, 'parent');
  return db
    .select({ from: parent.code, to: cultures.code, animals: cultureParents.animals })
    .from(cultures)
    .innerJoin(cultureParents, eq(cultureParents.cultureId, cultures.id))
    .innerJoin(parent, eq(parent.id, cultureParents.parentId))
    .where(eq(cultures.speciesId, speciesId))
    .orderBy(cultures.id, parent.id)
    .all();
}

/** Which culture was put into which later, all times together. */
export function graphMixings(db: Db, speciesId: number) {
  const source = alias(cultures, 'source');
  return db
    .select({
      from: source.code,
      to: cultures.code,
      animals: sql<number>`sum(${standingDiary.animals})`,
      lastOn: sql<string>`max(${standingDiary.onDay})`,
    })
    .from(cultures)
    .innerJoin(
      standingDiary,
      and(
        eq(standingDiary.cultureId, cultures.id),
        eq(standingDiary.kind, 'addition'),
        isNotNull(standingDiary.otherCultureId),
      ),
    )
    .innerJoin(source, eq(source.id, standingDiary.otherCultureId))
    .where(eq(cultures.speciesId, speciesId))
    .groupBy(cultures.id, source.id)
    .orderBy(cultures.id, source.id)
    .all();
}

/** The species that have cultures, with how many they ever had: what there are graphs of. */
export function speciesWithCultures(db: Db) {
  return db
    .select({
      id: species.id,
      scientificName: species.scientificName,
      commonName: species.commonName,
      cultures: sql<number>`count(*)`,
    })
    .from(species)
    .innerJoin(cultures, eq(cultures.speciesId, species.id))
    .groupBy(species.id)
    .orderBy(species.scientificName)
    .all();
}
