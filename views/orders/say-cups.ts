import { animalsPerGroup } from '../../shared/orders/make-up.ts';
import { formatCount, formatNumber } from '../layout/format.ts';
import type { Pick as Taken } from './page-pack.tsx';

/** How many animals a pick comes to: "EX-4: 3 cups × (10 adults + 2 juveniles + 2 extra) = 42 animals". */
function sayPick(pick: Taken, locale?: string): string {
  const number = (value: number) => formatNumber(value, locale);
  const { code, groups, groupAdults, groupJuveniles, groupExtras, animals } = pick;
  const each = [
    groupAdults > 0 && formatCount(groupAdults, 'adult', 'adults', locale),
    groupJuveniles > 0 && formatCount(groupJuveniles, 'juvenile', 'juveniles', locale),
    groupExtras > 0 && formatCount(groupExtras, 'extra', 'extras', locale),
  ].filter(Boolean);
  return `${code}: ${formatCount(groups, 'cup', 'cups', locale)} × (${each.join(' + ')} = ${number(animalsPerGroup(pick))}) = ${number(animals)} animals.`;
}

/** The animals of each pick, a line each. */
export const sayPicks = (picks: readonly Taken[], locale?: string): string[] =>
  picks.map((pick) => sayPick(pick, locale));
