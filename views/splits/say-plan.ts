import type { PlanKind } from '../../shared/splits/plan-form.ts';
import { formatDay, formatNumber } from '../layout/format.ts';

export const planWords: Record<PlanKind, string> = { split: 'split', repot: 'fresh substrate' };

/** When a culture is likely full, and what that stands on. */
export type LikelyFull = { fullOn: string; median: number; capacity: number; fullFrom: number };

/** "Full from 0.9 × 156 that the enclosure holds = 140; it has about 120, and its forecast gets there on 3 Jan 2027." */
export function sayFull({ fullOn, median, capacity, fullFrom }: LikelyFull, locale?: string): string {
  const number = (value: number) => formatNumber(value, locale);
  return `Full from 9 in 10 of the ${number(capacity)} that the enclosure holds = ${number(fullFrom)}. Now about ${number(median)}; the forecast has them on ${formatDay(fullOn, locale)}.`;
}
