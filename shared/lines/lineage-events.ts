import { toEpochDay } from '../days.ts';
import { CalculationError } from '../faults.ts';
import type { Lineage } from './form.ts';
import { foundingOrder, placesOf } from './founding-order.ts';

/** Cultures by their places in the list, days as whole numbers (see days.ts). */
export type LineageEvent =
  | { kind: 'founding'; day: number; culture: number; animals: number; parents: From[] }
  | { kind: 'addition'; day: number; culture: number; from: From };

export interface From {
  culture: number;
  animals: number;
}

/**
 * The foundings and additions of a lineage in the order in which they happen: by day; on one day first the
 * foundings, parents before children, then the additions as they are given (culture by culture). A founding
 * from the wild has no parents.
 *
 * Errors: CalculationError where a code is unknown or a culture descends from itself; `lineageInput` refuses
 * both before, with their paths.
 */
export function lineageEvents({ cultures }: Lineage): LineageEvent[] {
  const places = placesOf(cultures);
  const from = ({ code, animals }: { code: string; animals: number }): From => {
    const culture = places.get(code);
    if (culture === undefined)
      throw new CalculationError(`name ${code}, which is no culture here`, 'cultures');
    return { culture, animals };
  };
  const order = foundingOrder(cultures);
  if (order.length < cultures.length) {
    throw new CalculationError('lead back in a ring, so that a culture descends from itself', 'cultures');
  }
  const foundings = order.map((place): LineageEvent => {
    const { foundedOn, wild, parents } = cultures[place]!;
    const animals = wild ?? parents.reduce((sum, parent) => sum + parent.animals, 0);
    const day = toEpochDay(foundedOn);
    return { kind: 'founding', day, culture: place, animals, parents: parents.map(from) };
  });
  const additions = cultures.flatMap((culture, place) =>
    culture.additions.map((addition): LineageEvent => {
      return { kind: 'addition', day: toEpochDay(addition.date), culture: place, from: from(addition) };
    }),
  );
  // The sort is stable: what falls on one day stays in this order.
  return [...foundings, ...additions].sort((a, b) => a.day - b.day);
}
