import { max } from 'drizzle-orm';
import type { Db } from '../../server/plumbing/open-database.ts';
import * as tables from '../../server/schema/tables.ts';
import { testNow, testToday } from './test-app.ts';

/**
 * Rows of stock for tests, each complete by itself and changed by what a test names. Invented animals: no figure
 * here is a fact about a species.
 */

type SpeciesRow = typeof tables.species.$inferInsert;
type EnclosureRow = typeof tables.enclosures.$inferInsert;
type PlaceRow = typeof tables.places.$inferInsert;
type CultureRow = typeof tables.cultures.$inferInsert;
type EstimateRow = typeof tables.cultureEstimates.$inferInsert;

type Numbered =
  | typeof tables.enclosures
  | typeof tables.places
  | typeof tables.species
  | typeof tables.cultures;

/** Counted in the database itself, so that the same bench is the same to the letter whatever was tested before. */
const next = (db: Db, table: Numbered) =>
  1 +
  (db
    .select({ last: max(table.id) })
    .from(table)
    .get()?.last ?? 0);

export function makeEnclosure(db: Db, overrides: Partial<EnclosureRow> = {}) {
  return db
    .insert(tables.enclosures)
    .values({
      name: `Box ${next(db, tables.enclosures)}`,
      shape: 'box',
      lengthMm: 200,
      widthMm: 150,
      heightMm: 120,
      substrateDepthMm: 60,
      ventilation: 'two mesh holes',
      measured: true,
      ...overrides,
    })
    .returning()
    .get();
}

export function makePlace(db: Db, overrides: Partial<PlaceRow> = {}) {
  const number = next(db, tables.places);
  const name = overrides.name ?? `Shelf ${number}`;
  return db
    .insert(tables.places)
    .values({
      kind: 'shelf',
      name,
      fullName: name,
      shelfOrder: `s${String(number).padStart(6, '0')}`,
      ...overrides,
    })
    .returning()
    .get();
}

export function makeSpecies(db: Db, overrides: Partial<SpeciesRow> = {}) {
  const number = next(db, tables.species);
  return db
    .insert(tables.species)
    .values({
      scientificName: `Exemplum numerus${number}`,
      commonName: `example isopod ${number}`,
      animalGroup: 'isopod',
      sellable: true,
      groupAdults: 10,
      groupJuveniles: 2,
      groupExtras: 2,
      priceMinor: 1250,
      growthPerWeekMedian: 0.07,
      growthSdLog: 0.5,
      capacityPerLitreMedian: 80,
      capacitySdLog: 0.4,
      processSd: 0.05,
      detectionAlpha: 6,
      detectionBeta: 9,
      adultAlpha: 6,
      adultBeta: 6,
      reserveAnimals: 24,
      reserveShare: 0.5,
      confidence: 0.9,
      femaleShare: 0.5,
      startMales: 2,
      startFemales: 2,
      generationDays: 120,
      effectiveRatio: 0.5,
      checkEveryDays: 7,
      feedEveryDays: 7,
      lethalLowC: 0,
      safeLowC: 8,
      idealLowC: 20,
      idealHighC: 26,
      safeHighC: 30,
      lethalHighC: 36,
      cautions: '',
      ...overrides,
    })
    .returning()
    .get();
}

/** A culture with a species, an enclosure and a place of its own where the test names none. */
export function makeCulture(db: Db, overrides: Partial<CultureRow> = {}) {
  const number = next(db, tables.cultures);
  return db
    .insert(tables.cultures)
    .values({
      code: `EX-${String(number).padStart(3, '0')}`,
      morph: '',
      foundedOn: '2026-01-10',
      origin: 'bought',
      foundingAnimals: 30,
      foundingSdLog: 0.2,
      status: 'active',
      note: '',
      madeBy: null,
      madeAt: testNow,
      ...overrides,
      speciesId: overrides.speciesId ?? makeSpecies(db).id,
      enclosureId: overrides.enclosureId ?? makeEnclosure(db).id,
      placeId: overrides.placeId === undefined ? makePlace(db).id : overrides.placeId,
    })
    .returning()
    .get();
}

/** What the calculation would have said of a culture: by default about 140, with two groups of 14 to spare. */
export function makeEstimate(db: Db, cultureId: number, overrides: Partial<EstimateRow> = {}) {
  const row: EstimateRow = {
    asOf: testToday,
    workedOutAt: testNow,
    fault: null,
    mean: 141,
    median: 140,
    lower: 105,
    upper: 190,
    growthMedian: 0.07,
    growthLower: 0.04,
    growthUpper: 0.11,
    capacityMedian: 180,
    capacityLower: 130,
    capacityUpper: 250,
    fullnessMedian: 0.77,
    fullnessLower: 0.52,
    fullnessUpper: 1,
    extinct: 0,
    reserve: 90,
    promisable: 28,
    spareAnimals: 28,
    spareGroups: 2,
    sustainableMedian: 3.1,
    sustainableLower: 1.4,
    sustainableUpper: 6,
    readyOn: '2026-12-14',
    limitedBy: 'reserve',
    lastCountOn: '2026-11-13',
    lastCheckOn: '2026-11-20',
    forecast: null,
    ...overrides,
    cultureId,
  };
  const set: Partial<EstimateRow> = { ...row };
  delete set.cultureId;
  return db
    .insert(tables.cultureEstimates)
    .values(row)
    .onConflictDoUpdate({ target: tables.cultureEstimates.cultureId, set })
    .returning()
    .get();
}

/** A culture of the species with an estimate: what can be sold from. */
export function makeStock(
  db: Db,
  speciesId: number,
  estimate: Partial<EstimateRow> = {},
  culture: Partial<CultureRow> = {},
) {
  const row = makeCulture(db, { ...culture, speciesId });
  makeEstimate(db, row.id, estimate);
  return row;
}
