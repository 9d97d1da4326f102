import { starterEnclosures } from '../../shared/enclosures/starter-set.ts';
import { starterSpecies } from '../../shared/species/starter-set.ts';
import { enclosureNamed, insertEnclosure } from '../enclosures/queries.ts';
import type { Db } from '../plumbing/open-database.ts';
import { insertSpecies, speciesNamed } from './queries.ts';

export type StarterSetOutcome = { speciesIds: number[]; enclosureIds: number[] };

/** Puts in the species and enclosures of the starter set that are not there yet, by name. */
export function insertStarterSet(tx: Db): StarterSetOutcome {
  const enclosureIds = starterEnclosures
    .filter(({ name }) => !enclosureNamed(tx, name))
    .map((enclosure) => insertEnclosure(tx, enclosure));
  const speciesIds = starterSpecies
    .filter(({ scientificName }) => !speciesNamed(tx, scientificName))
    .map(({ home, layers, ...species }) =>
      insertSpecies(tx, { ...species, homeEnclosureId: enclosureNamed(tx, home)?.id ?? null }, layers),
    );
  return { speciesIds, enclosureIds };
}
