import type { PackingPick } from './packing-sheet-data.ts';

export interface PackingTotals {
  cultures: number;
  cups: number;
  ordered: number;
  extras: number;
  animals: number;
}

/** What one pick takes out of its culture. */
export function animalsOf(pick: PackingPick): number {
  const { adults, juveniles, extras } = pick.perGroup;
  return pick.groups * (adults + juveniles + extras);
}

/** What the box holds in all. */
export function totalsOf(picks: PackingPick[]): PackingTotals {
  const animals = sum(picks.map(animalsOf));
  const extras = sum(picks.map((pick) => pick.groups * pick.perGroup.extras));
  return {
    cultures: new Set(picks.map((pick) => pick.cultureCode)).size,
    cups: sum(picks.map((pick) => pick.cups)),
    ordered: animals - extras,
    extras,
    animals,
  };
}

function sum(numbers: number[]): number {
  return numbers.reduce((total, each) => total + each, 0);
}
