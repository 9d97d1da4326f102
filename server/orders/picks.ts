import { animalsPerGroup } from '../../shared/orders/make-up.ts';
import type { OrderLine } from './queries.ts';
import type { CurrentAllocation } from './queries-allocations.ts';

/** One thing to fetch: groups of one line from one culture, however often they were reserved. */
export type PickRow = CurrentAllocation & { key: string; makeUp: OrderLine };

export const pickKey = (one: { lineId: number; cultureId: number }) => `${one.lineId}-${one.cultureId}`;

/** What is to be fetched, in the order of the shelves; several reservations of the same are one pick. */
export function picksOf(allocations: readonly CurrentAllocation[], lines: readonly OrderLine[]): PickRow[] {
  const byId = new Map(lines.map((line) => [line.id, line]));
  const picks = new Map<string, PickRow>();
  for (const one of allocations) {
    const makeUp = byId.get(one.lineId);
    if (!makeUp) continue;
    const key = pickKey(one);
    const known = picks.get(key);
    if (known) {
      known.groups += one.groups;
      known.animals = known.groups * animalsPerGroup(makeUp);
    } else picks.set(key, { ...one, key, makeUp });
  }
  return [...picks.values()];
}
