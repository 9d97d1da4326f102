import { addDays, type Day } from '../days.ts';
import { groupsToSpare, type MakeUp, type Stock } from '../orders/make-up.ts';

/** How many groups are spare, as strangers are told: never more than there are, and no more than the owner lets show. */
export type SpareShown = { kind: 'none' } | { kind: 'some'; groups: number } | { kind: 'more'; than: number };

/** A species as the list of what is spare shows it. Nothing else of the stock leaves the house. */
export type Offer = {
  speciesId: number;
  scientificName: string;
  commonName: string;
  adults: number;
  juveniles: number;
  priceMinor: number;
  spare: SpareShown;
  /** Where none is spare: the days between which the next group is likely ready. */
  ready: { from: Day; to: Day } | null;
};

/**
 * How many groups of a species its cultures can spare together, and how that is told: up to `mostShown` as it is, above
 * that as "more than". A group comes from one culture whole, so leftovers of several are not added up.
 *
 * @example spareShown([{ promisable: 40, promised: 14, spareGroups: 2 }], duo, 5) // { kind: 'some', groups: 1 }
 */
export function spareShown(stock: readonly Stock[], makeUp: MakeUp, mostShown: number): SpareShown {
  const groups = stock.reduce((sum, one) => sum + Math.max(0, groupsToSpare(one, makeUp, makeUp)), 0);
  if (groups === 0) return { kind: 'none' };
  return groups > mostShown ? { kind: 'more', than: mostShown } : { kind: 'some', groups };
}

const daysOfForecast = 7;

/**
 * When the next group is likely ready: the forecast goes by weeks, so the first of the cultures' days stands for the week
 * that ends with it, from tomorrow at the earliest. Null where no culture will have one in the weeks that are looked at.
 *
 * @example readyRange(['2026-12-14', null, '2026-12-21'], '2026-11-25') // { from: '2026-12-08', to: '2026-12-14' }
 */
export function readyRange(readyOn: readonly (Day | null)[], today: Day): { from: Day; to: Day } | null {
  const to = readyOn.filter((day): day is Day => day !== null && day > today).sort()[0];
  if (to === undefined) return null;
  const from = addDays(to, 1 - daysOfForecast);
  return { from: from > today ? from : addDays(today, 1), to };
}
