import { ne, sql } from 'drizzle-orm';
import type { KnownCulture } from '../../shared/records/culture-book.ts';
import type { Stock } from '../../shared/records/stock-plan.ts';
import { commonNames } from '../../shared/species/common-names.ts';
import type { Db } from '../plumbing/open-database.ts';
import {
  audit,
  cultureEstimates,
  cultureParents,
  cultures,
  enclosures,
  imports,
  lines,
  places,
  species,
} from '../schema/tables.ts';

/** What cultures of a file may refer to. */
export function readStock(db: Db): Stock {
  const names = db
    .select({ scientificName: species.scientificName, commonName: species.commonName })
    .from(species);
  const named = db.select({ name: enclosures.name }).from(enclosures);
  const { id, parentId, name, kind } = places;
  const ofSpecies = db
    .select({ species: species.scientificName, name: lines.name })
    .from(lines)
    .innerJoin(species, sql`${species.id} = ${lines.speciesId}`);
  return {
    species: names.all(),
    enclosures: named.all().map((row) => row.name),
    places: db.select({ id, parentId, name, kind }).from(places).all(),
    lines: ofSpecies.all(),
  };
}

/** Groups of names of one species each, the scientific one first: those of the records and those of the trade. */
export function synonymsOf(stock: Pick<Stock, 'species'>): string[][] {
  const groups = new Map(
    stock.species.map((one) => [one.scientificName.toLowerCase(), [one.scientificName, one.commonName]]),
  );
  for (const [common, scientific] of commonNames) {
    const key = scientific.toLowerCase();
    const group = groups.get(key) ?? [scientific];
    group.push(common);
    groups.set(key, group);
  }
  return [...groups.values()].map((group) => group.filter((name) => name !== ''));
}

/** A culture is taken to have held at most so many times what its estimate thinks possible: a slip is far above. */
const GENEROUS = 3;

/** The cultures of the records as the reading of a file needs them. */
export function readKnown(db: Db, stock: Pick<Stock, 'species'>): KnownCulture[] {
  const synonyms = new Map(synonymsOf(stock).map((group) => [group[0]!.toLowerCase(), group]));
  const parents = new Map<number, KnownCulture['parents']>();
  const parent = sql<string>`(SELECT code FROM cultures WHERE cultures.id = ${cultureParents.parentId})`;
  for (const row of db
    .select({ id: cultureParents.cultureId, code: parent, animals: cultureParents.animals })
    .from(cultureParents)
    .all()) {
    const { id, code, animals } = row;
    parents.set(id, [...(parents.get(id) ?? []), { code, animals }]);
  }
  return db
    .select({
      id: cultures.id,
      code: cultures.code,
      scientificName: species.scientificName,
      lineName: lines.name,
      foundedOn: cultures.foundedOn,
      foundingAnimals: cultures.foundingAnimals,
      upper: cultureEstimates.upper,
      capacityUpper: cultureEstimates.capacityUpper,
    })
    .from(cultures)
    .innerJoin(species, sql`${species.id} = ${cultures.speciesId}`)
    .leftJoin(lines, sql`${lines.id} = ${cultures.lineId}`)
    .leftJoin(cultureEstimates, sql`${cultureEstimates.cultureId} = ${cultures.id}`)
    .all()
    .map(({ id, scientificName, upper, capacityUpper, ...rest }) => ({
      ...rest,
      speciesNames: synonyms.get(scientificName.toLowerCase()) ?? [scientificName],
      parents: parents.get(id) ?? [],
      largest:
        upper === null || capacityUpper === null
          ? null
          : Math.ceil(GENEROUS * Math.max(upper, capacityUpper)),
    }));
}

/** Every culture by its code, with what is believed of the share of its animals that shows. */
export function readBook(db: Db) {
  const rows = db
    .select({
      id: cultures.id,
      code: cultures.code,
      alpha: species.detectionAlpha,
      beta: species.detectionBeta,
    })
    .from(cultures)
    .innerJoin(species, sql`${species.id} = ${cultures.speciesId}`)
    .all();
  return new Map(rows.map(({ id, code, alpha, beta }) => [code, { id, detection: { alpha, beta } }]));
}

/**
 * Changes whenever something did that a reading or its plan depends on: cultures, imports, and what owners change by
 * hand, which is in the record of changes.
 */
export function stockMark(db: Db): string {
  const one = db
    .select({
      cultures: sql<number>`(SELECT count(*) || ' ' || coalesce(max(id), 0) FROM cultures)`,
      imports: sql<string>`(SELECT count(*) || ' ' || coalesce(max(id), 0) FROM ${imports} WHERE ${ne(imports.state, 'undone')})`,
      changes: sql<number>`(SELECT coalesce(max(id), 0) FROM ${audit})`,
    })
    .from(sql`(SELECT 1)`)
    .get();
  return JSON.stringify(one);
}
