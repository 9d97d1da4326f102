import { formatDay, formatNumber } from '../layout/format.ts';
import type { Step } from '../layout/worked-out.tsx';
import type { FeederPlan } from './page-feeders.tsx';

/** More colonies than this are no help to anybody who checks a sum. */
const mostListed = 12;

/** What is eaten and what is there in the first week of a feeder's plan, step by step. */
export function sayFeeders(plan: FeederPlan, locale?: string): Step[] {
  const { scientificName, safety, weeks, startNow, culture, thisWeek } = plan;
  const [week] = weeks;
  if (!week || thisWeek.eats.length === 0) return [];
  const number = (value: number, digits = 1) => formatNumber(value, locale, digits);
  const listed = (words: readonly string[], between: string) => {
    const more = words.length - mostListed;
    return [...words.slice(0, mostListed), ...(more > 0 ? [`and ${more} more`] : [])].join(between);
  };
  const eats = thisWeek.eats.map(
    ({ code, perWeek, share, animals }) =>
      `${code} ${number(perWeek)} × ${number(share, 3)} full = ${number(animals)}`,
  );
  const gives = thisWeek.gives
    .filter(({ animals }) => animals > 0)
    .map(({ code, animals }) => `${code} ${number(animals)}`);
  const begins =
    startNow > 0 && culture.seedAdults > 0
      ? ` − ${number(startNow, 0)} × ${number(culture.seedAdults)} to begin new ones`
      : '';
  return [
    [
      scientificName,
      `, week from ${formatDay(week.weekStart, locale, 'month-day')}, eaten: ${listed(eats, '; ')}; in all ${number(week.demand)}, × ${number(safety, 2)} for safety.`,
    ],
    `There: ${gives.length > 0 ? listed(gives, ' + ') : 'nothing from cultures that run'}${begins}; in all ${number(week.supply)}. Each gives ${number(culture.yield)} ÷ ${number(culture.productiveDays, 0)} a day, from day ${number(culture.leadDays, 0)} on.`,
  ];
}
