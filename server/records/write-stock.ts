import { and, eq, isNull } from 'drizzle-orm';
import { starterEnclosures } from '../../shared/enclosures/starter-set.ts';
import { measuresFor } from '../../shared/records/enclosure-size.ts';
import { type PlacePlan, placeKey } from '../../shared/records/place-plan.ts';
import { doubted } from '../../shared/records/share-that-shows.ts';
import { starterNamed } from '../../shared/records/species-guess.ts';
import type { EnclosurePlan, LinePlan, SpeciesPlan, StockPlan } from '../../shared/records/stock-plan.ts';
import { careHeadings } from '../../shared/species/columns.ts';
import { defaultsFor } from '../../shared/species/defaults.ts';
import { enclosureNamed } from '../enclosures/queries.ts';
import { lineNamed } from '../lines/queries.ts';
import { insertPlace, orderPlaces } from '../places/queries.ts';
import type { Db } from '../plumbing/open-database.ts';
import { enclosures, lines, places, species } from '../schema/tables.ts';
import { insertSpecies, speciesNamed } from '../species/queries.ts';

/** The numbers of all that cultures refer to, once it is there. */
export type StockIds = {
  speciesByKey: Map<string, { id: number; detection: { alpha: number; beta: number } }>;
  enclosureByName: Map<string, number>;
  placeByKey: Map<string, number>;
  /** By the name in lower case and the species' number. */
  lineByName: Map<string, number>;
};

export const enclosureKey = (name: string | null) => name?.toLowerCase() ?? '';
export const lineKey = (name: string, speciesId: number) => `${speciesId} ${name.toLowerCase()}`;

/** Makes what is planned and not there yet, marked with the import that brought it. */
export function writeStock(tx: Db, plan: StockPlan, importId: number): StockIds {
  const enclosureByName = new Map(
    plan.enclosures.map((one) => [enclosureKey(one.name), enclosureId(tx, one, importId)]),
  );
  const speciesByKey = new Map(plan.species.map((one) => [one.key, speciesOf(tx, one, importId)]));
  const lineByName = new Map(
    plan.lines.map((line) => {
      const { id } = speciesByKey.get(line.speciesKey)!;
      return [lineKey(line.name, id), lineId(tx, line, id, importId)];
    }),
  );
  const placeByKey = new Map(
    plan.places.map((place) => [placeKey(place.path), placeId(tx, place, importId)]),
  );
  if (plan.places.some((place) => place.steps.length > 0)) orderPlaces(tx);
  return { speciesByKey, enclosureByName, placeByKey, lineByName };
}

function enclosureId(tx: Db, { is, make }: EnclosurePlan, importId: number): number {
  const there = enclosureNamed(tx, is ?? make?.name ?? '');
  if (there) return there.id;
  if (!make?.size) throw new Error('an enclosure without a size was not asked for');
  const measures = measuresFor(make.size);
  return tx
    .insert(enclosures)
    .values({ ...measures, name: make.name, ventilation: '', measured: false, importId })
    .returning({ id: enclosures.id })
    .get().id;
}

function speciesOf(tx: Db, { is, make }: SpeciesPlan, importId: number) {
  const there = speciesNamed(tx, is ?? make?.scientificName ?? '') ?? makeSpecies(tx, make, importId);
  return { id: there.id, detection: { alpha: there.detectionAlpha, beta: there.detectionBeta } };
}

function makeSpecies(tx: Db, make: SpeciesPlan['make'], importId: number) {
  if (!make?.group) throw new Error('a species without a group was not asked for');
  const { scientificName, commonName, group } = make;
  const starter = make.starter ? starterNamed(scientificName) : null;
  const noCare = Object.fromEntries(careHeadings.map((heading) => [heading, '']));
  const record = {
    scientificName,
    commonName,
    animalGroup: group,
    homeEnclosureId: starter ? homeId(tx, starter.home, importId) : null,
    cautions: starter?.cautions ?? '',
    figures: doubted(starter?.figures ?? defaultsFor(group), make.shares),
    care: starter?.care ?? (noCare as Record<(typeof careHeadings)[number], string>),
  };
  const id = insertSpecies(tx, record, starter?.layers ?? []);
  tx.update(species).set({ importId }).where(eq(species.id, id)).run();
  return { id, ...record.figures };
}

/** The home that the care sheet of a common species tells to build. */
function homeId(tx: Db, name: string, importId: number): number | null {
  const there = enclosureNamed(tx, name);
  if (there) return there.id;
  const starter = starterEnclosures.find((one) => one.name === name);
  if (!starter) return null;
  return tx
    .insert(enclosures)
    .values({ ...starter, measured: true, importId })
    .returning({ id: enclosures.id })
    .get().id;
}

function lineId(tx: Db, { name }: LinePlan, speciesId: number, importId: number): number {
  const there = lineNamed(tx, speciesId, name);
  if (there) return there.id;
  return tx
    .insert(lines)
    .values({ speciesId, name, locality: '', note: '', importId })
    .returning({ id: lines.id })
    .get().id;
}

function placeId(tx: Db, { inId, steps }: PlacePlan, importId: number): number {
  let at = inId;
  for (const { name, kind } of steps) {
    const parent = at === null ? isNull(places.parentId) : eq(places.parentId, at);
    const there = tx
      .select({ id: places.id })
      .from(places)
      .where(and(parent, eq(places.name, name)))
      .get();
    at = there?.id ?? insertPlace(tx, { kind, name, parentId: at, importId });
  }
  if (at === null) throw new Error('a place without a name was not asked for');
  return at;
}
