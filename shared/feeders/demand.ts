import { addDays, type Day, daysBetween } from '../days.ts';
import { weekStart } from '../settings/week.ts';

/** A colony that eats: how much in a week when its enclosure is full, and how full that is and will be. */
export interface Eater {
  perWeek: number;
  /** 0 to 1 and somewhat beyond; null where nothing is known, then it is taken as full. */
  fullness: number | null;
  /** Fullness on days to come, in their order. */
  ahead: readonly { date: Day; fullness: number }[];
}

/** Even a new colony is fed: young animals eat, and what is not found spoils. Common practice, no source. */
const LEAST_SHARE = 0.2;

/** What one colony eats in a week that begins on a day: so many when full × how full it is taken to be. */
export function eatsInWeek(eater: Eater, begins: Day): { share: number; animals: number } {
  const share = fullnessOn(eater, addDays(begins, 3));
  return { share, animals: eater.perWeek * share };
}

function fullnessOn({ fullness, ahead }: Eater, day: Day): number {
  const known = ahead.filter(({ date }) => date <= day).at(-1)?.fullness ?? fullness ?? 1;
  return Math.min(1, Math.max(LEAST_SHARE, known));
}

/**
 * What the colonies eat in each of the coming weeks: for each enclosure so many animals a week when it is full, less
 * where it is not, never below a fifth.
 *
 * Units: animals a week. A colony's forecast is taken as it stands in the middle of the week; beyond its end the last
 * stands for the rest. Weeks begin on `firstWeekday`, 1 for Monday to 7 for Sunday.
 *
 * @example weeklyDemand([{ perWeek: 40, fullness: 0.5, ahead: [] }], '2026-11-25', 2)
 * // [{ weekStart: '2026-11-23', demand: 20 }, { weekStart: '2026-11-30', demand: 20 }]
 */
export function weeklyDemand(eaters: readonly Eater[], today: Day, weeks: number, firstWeekday = 1) {
  const first = weekStart(today, firstWeekday);
  return Array.from({ length: weeks }, (_, w) => {
    const begins = addDays(first, 7 * w);
    const demand = eaters.reduce((sum, eater) => sum + eatsInWeek(eater, begins).animals, 0);
    return { weekStart: begins, demand: Math.round(demand * 10) / 10 };
  });
}

/** Whether a feeder culture has given what it gives: kept longer it breeds mites. */
export const isSpent = (startedOn: Day, culture: { leadDays: number; productiveDays: number }, today: Day) =>
  daysBetween(startedOn, today) >= culture.leadDays + culture.productiveDays;
