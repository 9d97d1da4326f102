import { type Believed, trendWay } from '../../shared/counts/trend.ts';
import { formatDay, formatInTen, formatNumber } from '../layout/format.ts';
import { formatEstimate } from '../layout/round-estimate.ts';
import { type SpareCase, saySpare } from './say-worked-out.ts';

/** One culture of a list, with all that its numbers there come from. */
export type ExampleCulture = SpareCase & {
  code: string;
  known: SpareCase['known'] & {
    median: number | null;
    lower: number | null;
    upper: number | null;
    fullnessMedian: number | null;
    lastCountOn: string | null;
  };
};

const estimate = ({ median, lower, upper }: Omit<Believed, 'onDay'>, locale?: string) =>
  formatEstimate(median, lower, upper, locale);

const wayWords = {
  up: 'each middle lies outside the doubt of the other, so it grew',
  down: 'each middle lies outside the doubt of the other, so it shrank',
  unclear: 'a middle lies within the doubt of the other, so it is not clear',
} as const;

/** Why a trend is called up, down or unclear. */
export function sayTrend(points: readonly Believed[], locale?: string): string | null {
  const way = trendWay(points);
  const [first, last] = [points[0], points.at(-1)];
  if (way === null || !first || !last) return null;
  const on = (point: Believed) => `${estimate(point, locale)} on ${formatDay(point.onDay, locale)}`;
  return `Half a year: ${on(first)}, ${on(last)}; ${wayWords[way]}.`;
}

/** The numbers of one row of a list, step by step. */
export function sayExample(
  one: ExampleCulture | null,
  { trend = [], locale }: { trend?: readonly Believed[]; locale?: string | undefined },
): (string | null)[] {
  if (!one || one.known.median === null) return [];
  const { median, lower, upper, capacityMedian, fullnessMedian, lastCountOn } = one.known;
  const counted =
    lastCountOn === null ? 'never counted' : `last counted on ${formatDay(lastCountOn, locale)}`;
  const full =
    capacityMedian === null || fullnessMedian === null
      ? ''
      : `; in the middle ${formatNumber(fullnessMedian, locale, 2)} of the ${formatNumber(capacityMedian, locale)} that it holds, so ${formatInTen(fullnessMedian)} full`;
  return [
    `For example ${one.code}: ${estimate({ median, lower: lower ?? 0, upper: upper ?? 0 }, locale)} animals, ${counted}${full}. How its counts are weighed stands on its own page.`,
    sayTrend(trend, locale),
    ...saySpare(one, locale),
  ];
}
