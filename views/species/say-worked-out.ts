import { isParthenogenetic } from '../../shared/species/columns.ts';
import { safeStart, safeStartOf } from '../../shared/splits/safe-start.ts';
import { starterGroup } from '../../shared/splits/starter-group.ts';
import { formatCount, formatNumber, formatPercent } from '../layout/format.ts';
import { chanceWords, type Start } from './say.ts';

/** The chance that so many animals hold at least so many of each sex. */
const chanceOf = (animals: number, femaleShare: number, atLeast: { males: number; females: number }) =>
  starterGroup({ animals, femaleShare, atLeast }).probability;

/** How a group comes to its chance: what is left when the two ways to fail are taken off. */
function sayGroup(
  animals: number,
  { femaleShare, startMales, startFemales }: Start,
  locale?: string,
): string {
  const percent = (share: number) => formatPercent(share, locale, 2);
  const needed = startMales + startFemales;
  if (animals < needed)
    return `A start needs ${formatCount(needed, 'animal', 'animals', locale)}; ${formatNumber(animals, locale)} are too few.`;
  const fewFemales = 1 - chanceOf(animals, femaleShare, { males: 0, females: startFemales });
  const fewMales = 1 - chanceOf(animals, femaleShare, { males: startMales, females: 0 });
  const both = chanceOf(animals, femaleShare, { males: startMales, females: startFemales });
  return `Of ${formatNumber(animals, locale)} animals, each female with a chance of ${formatPercent(femaleShare, locale, 1)}: 100\u00a0% − ${percent(fewFemales)} with fewer than ${formatCount(startFemales, 'female', 'females', locale)} − ${percent(fewMales)} with fewer than ${formatCount(startMales, 'male', 'males', locale)} = ${chanceWords(both, locale)}.`;
}

/** The smallest group that is called a safe start, and what one animal fewer would be. */
function saySmallest(start: Start, locale?: string): string | null {
  const found = safeStartOf(start);
  if (!found || found.animals < 2) return null;
  const { femaleShare, startMales: males, startFemales: females } = start;
  const fewer = found.animals - 1;
  const before = chanceOf(fewer, femaleShare, { males, females });
  const percent = (share: number) => formatPercent(share, locale, 1);
  return `Called safe from ${formatPercent(safeStart, locale)} on: ${formatNumber(found.animals, locale)} animals with ${percent(found.probability)}; ${formatNumber(fewer, locale)} would be ${percent(before)}.`;
}

/** How safe a start with so many animals is, step by step. */
export function sayStart(animals: number, start: Start, locale?: string): (string | null)[] {
  const { startMales, startFemales } = start;
  if (startMales + startFemales === 0) return [];
  if (isParthenogenetic(start))
    return [
      `All are females that need no male: ${formatCount(startFemales, 'animal is', 'animals are', locale)} enough, and the group holds ${formatNumber(animals, locale)}.`,
    ];
  return [sayGroup(animals, start, locale), saySmallest(start, locale)];
}
