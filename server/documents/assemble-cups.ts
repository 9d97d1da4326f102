import { cupsNeeded } from '../../shared/documents/cups-needed.ts';
import { animalsPerGroup } from '../../shared/orders/make-up.ts';
import type { AnimalGroup } from '../../shared/species/columns.ts';
import type { PackingCups } from '../../views/documents/packing-sheet-data.ts';
import type { OrderLine } from '../orders/queries.ts';
import type { Db } from '../plumbing/open-database.ts';
import { type Cup, type HowPacked, howPacked } from './queries-packing.ts';

/** What is taken for an order: so many groups of a line. */
export type Taken = { makeUp: OrderLine; groups: number };

/** The cups of one species in a box; `cup` null where nobody said which. */
export type CupsOfSpecies = {
  speciesId: number;
  cup: Cup | null;
  count: number;
  animals: number;
  how: HowPacked;
};

/** How many cups so many groups of a line go into. */
export const cupsOfPick = ({ makeUp, groups }: Taken, { animalsPerCup }: HowPacked): number =>
  cupsNeeded({ groups, animalsPerGroup: animalsPerGroup(makeUp), animalsPerCup });

/** The cups of each species, in the order of the picks. */
export function cupsOf(
  db: Db,
  picks: readonly Taken[],
  groupOf: (speciesId: number) => AnimalGroup,
): CupsOfSpecies[] {
  const found = new Map<number, CupsOfSpecies>();
  for (const pick of picks) {
    const { speciesId } = pick.makeUp;
    const known = found.get(speciesId);
    const how = known?.how ?? howPacked(db, speciesId, groupOf(speciesId));
    const count = cupsOfPick(pick, how);
    const animals = pick.groups * animalsPerGroup(pick.makeUp);
    if (known) {
      known.count += count;
      known.animals += animals;
    } else found.set(speciesId, { speciesId, cup: how.cup, count, animals, how });
  }
  return [...found.values()];
}

type Names = { scientificName: string; commonName: string };

/** As the sheet says it. */
export const sayCups = (
  cups: readonly CupsOfSpecies[],
  namesOf: (speciesId: number) => Names,
): PackingCups[] =>
  cups.map(({ speciesId, cup, count, animals, how }) => {
    const { scientificName, commonName } = namesOf(speciesId);
    const { ventilation, padding } = how;
    return { scientificName, commonName, count, cupName: cup?.name ?? '', animals, ventilation, padding };
  });
