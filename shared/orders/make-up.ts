/** What one group of an order's line is made of; extras go along for losses on the way. */
export type MakeUp = { groupAdults: number; groupJuveniles: number; groupExtras: number };

/**
 * How many animals leave a culture with one group: extras too.
 *
 * @example animalsPerGroup({ groupAdults: 10, groupJuveniles: 2, groupExtras: 2 }) // 14
 */
export function animalsPerGroup({ groupAdults, groupJuveniles, groupExtras }: MakeUp): number {
  return groupAdults + groupJuveniles + groupExtras;
}

export const isSameMakeUp = (one: MakeUp, other: MakeUp): boolean =>
  one.groupAdults === other.groupAdults &&
  one.groupJuveniles === other.groupJuveniles &&
  one.groupExtras === other.groupExtras;

/** What is known of a culture when groups are promised from it. */
export type Stock = {
  /** Animals that could be promised in all, and those that are promised already. */
  promisable: number;
  promised: number;
  /** Groups of the species' own make-up that the calculation would spare, enough adults among them. */
  spareGroups: number;
};

/**
 * How many groups of a make-up a culture can spare now: as many as its spare animals allow, and no more than the
 * calculation says where the make-up is the species' own (there it has looked at the adults too).
 *
 * @example groupsToSpare({ promisable: 40, promised: 14, spareGroups: 2 }, duo, duo) // 1 group of 14
 */
export function groupsToSpare(stock: Stock, line: MakeUp, species: MakeUp): number {
  const byAnimals = Math.floor(Math.max(0, stock.promisable - stock.promised) / animalsPerGroup(line));
  return isSameMakeUp(line, species) ? Math.min(byAnimals, stock.spareGroups) : byAnimals;
}

/**
 * How many animals a proposal may take from a culture for groups of any make-up: what could be promised still, and no
 * more than the whole groups of the species' own make-up come to where the adults allow fewer of them than the
 * animals do.
 *
 * @example animalsToSpare({ promisable: 40, promised: 0, spareGroups: 2 }, duo) // 40: two groups of 14 fit anyway
 * @example animalsToSpare({ promisable: 60, promised: 0, spareGroups: 2 }, duo) // 28: for four the adults are too few
 */
export function animalsToSpare(stock: Stock, species: MakeUp): number {
  const animals = Math.max(0, stock.promisable - stock.promised);
  const perGroup = animalsPerGroup(species);
  return stock.spareGroups < Math.floor(animals / perGroup) ? stock.spareGroups * perGroup : animals;
}

/**
 * How many adults and juveniles leave with so many groups, the extras counted as one or the other.
 *
 * @example leaving(2, { groupAdults: 10, groupJuveniles: 2, groupExtras: 2 }, 'juveniles')
 * // { adults: 20, juveniles: 8, animals: 28 }
 */
export function leaving(groups: number, makeUp: MakeUp, extrasAs: 'adults' | 'juveniles') {
  const extras = groups * makeUp.groupExtras;
  const adults = groups * makeUp.groupAdults + (extrasAs === 'adults' ? extras : 0);
  const juveniles = groups * makeUp.groupJuveniles + (extrasAs === 'juveniles' ? extras : 0);
  return { adults, juveniles, animals: adults + juveniles };
}

/**
 * A make-up in words.
 *
 * @example makeUpWords({ groupAdults: 10, groupJuveniles: 2, groupExtras: 1 }) // '10 adults, 2 juveniles, 1 extra'
 */
export function makeUpWords({ groupAdults, groupJuveniles, groupExtras }: MakeUp): string {
  const parts: [number, string][] = [
    [groupAdults, 'adult'],
    [groupJuveniles, 'juvenile'],
    [groupExtras, 'extra'],
  ];
  return parts
    .filter(([n]) => n > 0)
    .map(([n, word]) => `${n} ${word}${n === 1 ? '' : 's'}`)
    .join(', ');
}
