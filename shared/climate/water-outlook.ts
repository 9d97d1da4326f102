import { addDays, type Day, daysBetween } from '../days.ts';
import type { Look } from './cycles.ts';
import { believeDrying, chanceDryBy, type DryingBelief, exposureAt, waterDueOn } from './drying.ts';
import type { ClimateReading, DryingPrior } from './drying-form.ts';

/**
 * What is believed of a closed box with a mesh window before anything was seen of it: a full watering lasts about ten
 * days in a living room's air (20 °C at 57 %), half or double that not being rare. Common practice, no source.
 */
const usualPrior: DryingPrior = { daysToDry: 10, sdLog: 0.6, atVpdKpa: 1 };

/** Water that was noted longer ago says nothing of the surface now. */
const FORGOTTEN_DAYS = 60;
/** With so many dryings seen the culture's own rate speaks, no longer the belief about such boxes. */
const ENOUGH_CYCLES = 3;
/** The curve is drawn from at most so many days ago to so many days ahead. */
const CURVE_BACK = 30;
const CURVE_AHEAD = 45;

/** When water is due, and what the words of the round say of it. */
export interface WaterExpected {
  /** The day from which on it is more likely dry than not; may have passed. */
  dueOn: Day;
  /** How long a full watering lasts in air as dry as now. */
  lastsDays: { median: number; lower: number; upper: number };
  vpdKpa: number;
  /** Whether the room's air was measured lately; without that it is a living room's. */
  isMeasured: boolean;
  /** Dryings that were seen from their beginning. */
  seenCycles: number;
  isLearned: boolean;
  /** The day it was last known to be wet. */
  wetOn: Day;
  foundDryOn: Day | null;
}

export interface WaterOutlook extends WaterExpected {
  /** Dry by this day with one chance in twenty, and with nineteen; null where it was found dry. */
  dryFrom: Day | null;
  dryTo: Day | null;
  /** The chance of a dry surface by day, from the day it was wet on, or some weeks ago. */
  curve: { date: Day; chance: number }[];
}

const latest = (a: Day, b: Day) => (a > b ? a : b);
const earliest = (a: Day, b: Day) => (a < b ? a : b);

function dryByChance(belief: DryingBelief, from: Day, chance: number): Day {
  let on = from;
  for (let i = 0; i < 200; i += 1) {
    if ((chanceDryBy(belief, on) ?? 1) >= chance) return on;
    on = addDays(on, 1);
  }
  return on;
}

function curveOf(belief: DryingBelief, from: Day, to: Day): WaterOutlook['curve'] {
  return Array.from({ length: Math.max(0, daysBetween(from, to)) + 1 }, (_, i) => {
    const date = addDays(from, i);
    return { date, chance: chanceDryBy(belief, date) ?? 0 };
  });
}

/** What is believed of a culture whose last wet day is known; null where only a look can tell. */
function believed(looks: readonly Look[], climate: readonly ClimateReading[], asOf: Day, prior: DryingPrior) {
  const belief = believeDrying(looks, climate, asOf, prior);
  const { current } = belief;
  if (!current?.isKnown || daysBetween(current.lastLookOn, asOf) > FORGOTTEN_DAYS) return null;
  return { belief, current };
}

function expectedOf({ belief, current }: NonNullable<ReturnType<typeof believed>>, asOf: Day): WaterExpected {
  const { air, cycles } = belief;
  const days = (probability: number) => exposureAt(belief, probability) / air.nowKpa;
  const seenCycles = cycles.filter(
    (cycle) => cycle.isKnown && cycle.dryAt !== null && cycle.looks > 0,
  ).length;
  return {
    dueOn: waterDueOn(belief, asOf),
    lastsDays: { median: days(0.5), lower: days(0.05), upper: days(0.95) },
    vpdKpa: air.nowKpa,
    isMeasured: air.isMeasured,
    seenCycles,
    isLearned: seenCycles >= ENOUGH_CYCLES,
    wetOn: current.from,
    foundDryOn: current.dryOn,
  };
}

/**
 * When water is due: what `waterOutlook` says of it, without the days and the curve that a page draws, in a third of
 * the time. Null where nothing was noted in the last sixty days of when it was wet.
 *
 * Units: days, kPa. `looks` in the order of their days.
 *
 * @example waterExpected([{ date: '2026-11-20', surface: 'dry', wateredMl: 50 }], [], '2026-11-25')?.dueOn
 * // '2026-11-30': ten days, as such boxes usually last
 */
export function waterExpected(
  looks: readonly Look[],
  climate: readonly ClimateReading[],
  asOf: Day,
  prior: DryingPrior = usualPrior,
): WaterExpected | null {
  const known = believed(looks, climate, asOf, prior);
  return known && expectedOf(known, asOf);
}

/**
 * When a culture will likely be dry, from its own checks and waterings and its room's air; see `drying` for the model.
 * Null where nothing was noted in the last sixty days of when it was wet: then only a look can tell.
 *
 * Units: days, kPa. `looks` in the order of their days.
 *
 * @example waterOutlook([{ date: '2026-11-20', surface: 'dry', wateredMl: 50 }], [], '2026-11-25')?.dueOn
 * // '2026-11-30': ten days, as such boxes usually last
 */
export function waterOutlook(
  looks: readonly Look[],
  climate: readonly ClimateReading[],
  asOf: Day,
  prior: DryingPrior = usualPrior,
): WaterOutlook | null {
  const known = believed(looks, climate, asOf, prior);
  if (!known) return null;
  const { belief, current } = known;
  const isDry = current.dryOn !== null;
  const dryTo = isDry ? null : dryByChance(belief, current.lastLookOn, 0.95);
  const curveEnd = earliest(latest(dryTo ?? asOf, asOf), addDays(asOf, CURVE_AHEAD));
  return {
    ...expectedOf(known, asOf),
    dryFrom: isDry ? null : dryByChance(belief, current.lastLookOn, 0.05),
    dryTo,
    curve: curveOf(belief, latest(current.from, addDays(asOf, -CURVE_BACK)), curveEnd),
  };
}

const ago = (on: Day, today: Day): string => {
  const days = daysBetween(on, today);
  return days <= 0 ? 'today' : days === 1 ? 'yesterday' : `${days} days ago`;
};
const inDays = (days: number) => (days < 1.5 ? 'a day' : `${Math.round(days)} days`);

/**
 * Why water is due, or when it will be, in the words of the round.
 *
 * @example waterReason(outlook, '2026-11-25') // 'water: wet 9 days ago, likely dry by now; a full watering lasts it about 8 days'
 */
export function waterReason(outlook: WaterExpected, today: Day): string {
  if (outlook.foundDryOn !== null) return `water: the surface was dry ${ago(outlook.foundDryOn, today)}`;
  const lasts = inDays(outlook.lastsDays.median);
  const wet = `water: wet ${ago(outlook.wetOn, today)}`;
  if (!outlook.isLearned) return `${wet}, likely dry by now; how fast it dries is not known well yet`;
  const air = outlook.isMeasured ? ' in the air of its room' : '';
  const now = outlook.dueOn <= today ? 'likely dry by now; ' : '';
  return `${wet}, ${now}a full watering lasts it about ${lasts}${air}`;
}
