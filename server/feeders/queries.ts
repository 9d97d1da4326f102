import { createHash } from 'node:crypto';
import { and, asc, eq, inArray, ne } from 'drizzle-orm';
import type { Eater } from '../../shared/feeders/demand.ts';
import type { Db } from '../plumbing/open-database.ts';
import { cultureEstimates, cultures, feederDiets, feederSpecies, species } from '../schema/tables.ts';

export type FeederSpecies = typeof feederSpecies.$inferSelect;

/** Every species that is kept as a feeder, with its names. */
export function feederList(db: Db) {
  return db
    .select({
      figures: feederSpecies,
      scientificName: species.scientificName,
      commonName: species.commonName,
    })
    .from(feederSpecies)
    .innerJoin(species, eq(species.id, feederSpecies.speciesId))
    .orderBy(asc(species.scientificName))
    .all();
}

export type FeederOnList = ReturnType<typeof feederList>[number];

/** All species, to choose feeders and eaters from. */
export function speciesChoices(db: Db) {
  const { id, scientificName, commonName, animalGroup, retiredAt } = species;
  return db
    .select({ id, scientificName, commonName, animalGroup, retiredAt })
    .from(species)
    .orderBy(asc(scientificName))
    .all()
    .filter((one) => one.retiredAt === null);
}

export function feederFigures(db: Db, speciesId: number): FeederSpecies | undefined {
  return db.select().from(feederSpecies).where(eq(feederSpecies.speciesId, speciesId)).get();
}

export function dietsOn(db: Db, feederId: number): Map<number, number> {
  const rows = db.select().from(feederDiets).where(eq(feederDiets.feederId, feederId)).all();
  return new Map(rows.map(({ speciesId, perWeek }) => [speciesId, perWeek]));
}

export function saveFeeder(tx: Db, figures: FeederSpecies, diets: ReadonlyMap<number, number>) {
  tx.insert(feederSpecies)
    .values(figures)
    .onConflictDoUpdate({ target: feederSpecies.speciesId, set: figures })
    .run();
  tx.delete(feederDiets).where(eq(feederDiets.feederId, figures.speciesId)).run();
  for (const [speciesId, perWeek] of diets)
    tx.insert(feederDiets).values({ speciesId, feederId: figures.speciesId, perWeek }).run();
}

export function dropFeeder(tx: Db, speciesId: number) {
  tx.delete(feederDiets).where(eq(feederDiets.feederId, speciesId)).run();
  tx.delete(feederSpecies).where(eq(feederSpecies.speciesId, speciesId)).run();
}

/** Cultures of a feeder that may be fed from: those in quarantine spread what they have. */
export function runningCultures(db: Db, speciesId: number) {
  const { code, foundedOn } = cultures;
  return db
    .select({ code, startedOn: foundedOn })
    .from(cultures)
    .where(and(eq(cultures.speciesId, speciesId), eq(cultures.status, 'active')))
    .orderBy(asc(foundedOn), asc(code))
    .all();
}

/** The colonies that eat a feeder (or some of them), with what is believed of each. */
function colonies(db: Db, feederId: number, onlyIds?: readonly number[]) {
  const { fullnessMedian, capacityMedian, forecast } = cultureEstimates;
  const { perWeek } = feederDiets;
  return db
    .select({
      id: cultures.id,
      code: cultures.code,
      perWeek,
      fullness: fullnessMedian,
      capacity: capacityMedian,
      forecast,
    })
    .from(feederDiets)
    .innerJoin(cultures, and(eq(cultures.speciesId, feederDiets.speciesId), ne(cultures.status, 'retired')))
    .leftJoin(cultureEstimates, eq(cultureEstimates.cultureId, cultures.id))
    .where(and(eq(feederDiets.feederId, feederId), onlyIds && inArray(cultures.id, [...onlyIds])))
    .all();
}

/** The colonies that eat a feeder, as full as they are believed to be. */
export function eatersOf(db: Db, feederId: number): (Eater & { code: string })[] {
  return colonies(db, feederId).map(({ code, perWeek, fullness, capacity, forecast: text }) => {
    const weeks = text && capacity ? (JSON.parse(text) as { date: string; median: number }[]) : [];
    return {
      code,
      perWeek,
      fullness,
      ahead: weeks.map(({ date, median }) => ({ date, fullness: median / capacity! })),
    };
  });
}

/** Another text for a colony whenever it eats another amount; only for those that eat the feeder. */
export const eaterPrints = (db: Db, feederId: number, onlyIds?: readonly number[]): Map<number, string> =>
  new Map(
    colonies(db, feederId, onlyIds).map(({ id, ...eats }) => {
      return [id, createHash('sha256').update(JSON.stringify(eats)).digest('base64')];
    }),
  );
