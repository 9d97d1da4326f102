import { addDays, type Day } from '../days.ts';
import { normalCdf } from '../numbers/normal.ts';
import { type Air, airOf } from './air.ts';
import { type Cycle, cyclesOf, type Look } from './cycles.ts';
import type { ClimateReading, DryingPrior, DryingQuestion } from './drying-form.ts';

/**
 * By how much one drying may differ from another in the same culture (water goes elsewhere, eyes judge differently),
 * as the standard deviation of its logarithm: steady, usual or wayward, each as likely before anything was seen, so
 * that a culture's own checks decide. Common practice, no source.
 */
export const CYCLE_SD_LOGS = [0.05, 0.15, 0.35] as const;
/** How often what was noted of a cycle says nothing at all: a wrong chip, the wrong box. Common practice, no source. */
export const SLIP = 0.02;

const POINTS = 321;
const REACH_SD = 6;
/** Only the newest cycles are gone through: enclosures, lids and hands change. */
const MOST_CYCLES = 120;
/** As likely as not, with room for the last digits. */
const EVEN = 0.501;
/** Farther ahead nothing is said. */
const MOST_DAYS_AHEAD = 366;

/** The cumulative normal from a table, straight between its points: off by less than 1e-6, and very fast. */
const STEPS_PER_UNIT = 512;
const EDGE = 8;
const table = Float64Array.from({ length: 2 * EDGE * STEPS_PER_UNIT + 1 }, (_, i) =>
  normalCdf(i / STEPS_PER_UNIT - EDGE),
);
function phi(z: number): number {
  if (z <= -EDGE) return 0;
  if (z >= EDGE) return 1;
  const at = (z + EDGE) * STEPS_PER_UNIT;
  const below = Math.floor(at);
  const low = table[below] ?? 0;
  return low + (at - below) * ((table[below + 1] ?? 1) - low);
}

/** What is believed of a culture's drying: exposures (kPa days) from full to dry, and how likely each is. */
export interface DryingBelief {
  exposures: Float64Array;
  weights: Float64Array;
  /** The same weights apart by how steady the culture is, in the order of CYCLE_SD_LOGS. */
  bySpread: readonly Float64Array[];
  /** The cycle that goes on, and the share of a full watering it began with, for each exposure. */
  current: Cycle | null;
  shares: Float64Array;
  cycles: readonly Cycle[];
  air: Air;
}

/** The chance that a drying lies under an exposure, both as logarithms: `middle` is where it lies by half. */
const dryBy = (logExposure: number, middle: number, spread: number) => phi((logExposure - middle) / spread);

/** How likely a cycle's looks are; a slip makes each look a toss of a coin. */
function likelihood(seen: Seen, middle: number, spread: number): number {
  const until = dryBy(seen.notDry, middle, spread);
  const dry = seen.dry === null ? 1 : dryBy(seen.dry, middle, spread);
  return (1 - SLIP) * Math.max(0, dry - until) + seen.slipped;
}

/** What was seen of a cycle, ready for the arithmetic: logarithms, minus infinity for nothing yet. */
interface Seen {
  cycle: Cycle;
  notDry: number;
  dry: number | null;
  slipped: number;
  teaches: boolean;
}
const seenOf = (cycle: Cycle): Seen => ({
  cycle,
  notDry: Math.log(cycle.notDryAt),
  dry: cycle.dryAt === null ? null : Math.log(cycle.dryAt),
  slipped: SLIP * 0.5 ** cycle.looks,
  teaches: cycle.isKnown && cycle.looks > 0,
});

/** Of a full watering, the share a cycle begins with. */
function shareOf(cycle: Cycle, before: number, whole: number): number {
  if (cycle.carried === 'full') return 1;
  const left = cycle.carried === 'dry' ? 0 : Math.max(0, before - cycle.exposureBefore / whole);
  return Math.min(1, left + cycle.added);
}

/**
 * What is known of how fast a culture dries, from its looks and the room's air: a distribution over the exposure that
 * takes it from a full watering to a dry surface. See `drying` for the model.
 */
export function believeDrying(
  looks: readonly Look[],
  climate: readonly ClimateReading[],
  asOf: Day,
  prior: DryingPrior,
): DryingBelief {
  const air = airOf(climate, asOf, prior.atVpdKpa);
  const cycles = cyclesOf(looks, air).slice(-MOST_CYCLES);
  const middle = Math.log(prior.daysToDry * prior.atVpdKpa);
  const sd = Math.max(prior.sdLog, 1e-9);
  const exposures = new Float64Array(POINTS);
  const shares = new Float64Array(POINTS);
  const logs = CYCLE_SD_LOGS.map(() => new Float64Array(POINTS));
  const seen = cycles.map(seenOf);
  for (let i = 0; i < POINTS; i += 1) {
    const z = REACH_SD * ((2 * i) / (POINTS - 1) - 1);
    const log = middle + sd * z;
    exposures[i] = Math.exp(log);
    for (const of of logs) of[i] = -0.5 * z * z;
    shares[i] = goThrough(seen, log, logs, i);
  }
  return { exposures, ...weightsOf(logs), current: cycles.at(-1) ?? null, shares, cycles, air };
}

/** Weighs one exposure by all cycles, for each spread; returns the share the last cycle began with. */
function goThrough(seen: readonly Seen[], log: number, logs: readonly Float64Array[], i: number): number {
  const whole = Math.exp(log);
  const products = CYCLE_SD_LOGS.map(() => 1);
  let share = 1;
  for (const [n, one] of seen.entries()) {
    share = shareOf(one.cycle, share, whole);
    if (!one.teaches) continue;
    const middle = share === 1 ? log : log + Math.log(share);
    const isTime = n % 20 === 19; // before a product of small numbers runs out of digits
    for (let k = 0; k < products.length; k += 1) {
      products[k] = products[k]! * likelihood(one, middle, CYCLE_SD_LOGS[k]!);
      if (isTime) {
        logs[k]![i] = logs[k]![i]! + Math.log(products[k]!);
        products[k] = 1;
      }
    }
  }
  for (const [k, of] of logs.entries()) of[i] = of[i]! + Math.log(products[k]!);
  return share;
}

function weightsOf(logs: readonly Float64Array[]): Pick<DryingBelief, 'weights' | 'bySpread'> {
  const top = Math.max(...logs.map((of) => of.reduce((a, b) => Math.max(a, b))));
  const raw = logs.map((of) => of.map((log) => Math.exp(log - top)));
  const sum = raw.reduce((all, of) => of.reduce((a, b) => a + b, all), 0);
  const bySpread = raw.map((of) => of.map((weight) => weight / sum));
  const weights = Float64Array.from({ length: POINTS }, (_, i) =>
    bySpread.reduce((all, of) => all + of[i]!, 0),
  );
  return { weights, bySpread };
}

/** The exposure below which a share of the belief lies; straight in its logarithm between the grid's points. */
export function exposureAt({ exposures, weights }: DryingBelief, probability: number): number {
  let below = 0;
  for (let i = 0; i < POINTS - 1; i += 1) {
    // Each point stands for the half-steps around it; the sum reaches the middle of its cell first.
    const half = (weights[i]! + weights[i + 1]!) / 2;
    const start = i === 0 ? weights[0]! / 2 : below;
    if (start + half >= probability) {
      const within = half > 0 ? Math.max(0, (probability - start) / half) : 0;
      return exposures[i]! * (exposures[i + 1]! / exposures[i]!) ** within;
    }
    below = start + half;
  }
  return exposures[POINTS - 1]!;
}

/**
 * The chance that the surface is dry by a day, given all that was seen until now. Null where no cycle is going on
 * because nobody has looked yet.
 */
export function chanceDryBy(belief: DryingBelief, on: Day): number | null {
  const { current, air } = belief;
  if (current === null) return null;
  if (current.dryAt !== null) return 1;
  const exposure = Math.log(air.sum(current.from, on));
  const seen = seenOf(current);
  let chance = 0;
  for (let i = 0; i < POINTS; i += 1) {
    const middle = Math.log(belief.shares[i]! * belief.exposures[i]!);
    for (let k = 0; k < CYCLE_SD_LOGS.length; k += 1) {
      const weight = belief.bySpread[k]![i]!;
      if (weight < 1e-12) continue;
      const spread = CYCLE_SD_LOGS[k]!;
      const by = dryBy(exposure, middle, spread);
      const since = (1 - SLIP) * Math.max(0, by - dryBy(seen.notDry, middle, spread));
      chance += (weight * (since + seen.slipped * by)) / likelihood(seen, middle, spread);
    }
  }
  return Math.min(1, chance);
}

/**
 * The day on which water is due: the last one on which the surface is not more likely dry than not; the day it was
 * found dry, where no water followed; today, where nobody has looked yet. May lie before `asOf`.
 */
export function waterDueOn(belief: DryingBelief, asOf: Day): Day {
  const { current } = belief;
  if (current === null) return asOf;
  if (current.dryOn !== null) return current.dryOn;
  let due = current.lastLookOn;
  const last = addDays(asOf, MOST_DAYS_AHEAD);
  const isMoist = (on: Day) => (chanceDryBy(belief, on) ?? 1) <= EVEN;
  // Doubling steps out, halving back: a culture that dries slowly costs no more than one that dries fast.
  let step = 1;
  while (step > 0 && due < last) {
    const next = addDays(due, step);
    if (isMoist(next)) {
      due = next;
      step *= 2;
    } else if (step === 1) break;
    else step = Math.floor(step / 2);
    if (step > 128) step = 128;
  }
  // Seen moist or watered on a day, it is not looked at again the same day.
  if (due === current.lastLookOn) return addDays(due, 1);
  if (due > last) return last;
  return due;
}

export interface Drying {
  daysToDry: { median: number; lower: number; upper: number };
  nextCheckOn: Day;
  vpdKpa: number;
  dueNow: boolean;
}

/**
 * When a culture wants water next, learned from its own checks. `daysToDry` is how long a full watering lasts in
 * air as dry as now (`vpdKpa`, kPa), with the interval at `level`; `nextCheckOn` is the day from which on the surface
 * is more likely dry than not, never before `asOf`; `dueNow` says whether that is today, or it was found dry and no
 * water followed.
 *
 * Model. Water leaves through the lid in proportion to the vapour pressure deficit, so a watering is used up by a sum
 * of deficit over days, X (kPa days). Of the culture's own constant H, from full to dry, log H ~ Normal(log(daysToDry x
 * atVpdKpa), sdLog) before anything was seen. A cycle that begins with a share s of a full watering dries at
 * X = s H e, log e ~ Normal(0, spread); wet and moist say that X is not reached, dry that it is: an interval-censored
 * likelihood, with one cycle in fifty noted wrongly. The spread is 0.05, 0.15 or 0.35, as the checks themselves tell. A full watering is the middle amount given to a dry surface; less
 * gives a share, a top-up adds to what is left (never above full). Wetter without water noted: somebody watered.
 *
 * Not for enclosures that were changed meanwhile: begin again with the checks since. Nobody has looked: due now.
 *
 * Errors: checks out of order, after `asOf` or more than twenty years back.
 * Source: FAO-56 (Allen et al. 1998) equation 11 for the deficit; evaporation in proportion to it is Dalton's law
 * (1802); Bayes' rule on a grid. The spread of cycles and of slips: common practice, no source.
 *
 * @example drying({ checks: [], climate: [], asOf: '2026-11-25', prior: { daysToDry: 10, sdLog: 0.5, atVpdKpa: 1 },
 *   level: 0.9 }) // daysToDry 10 (4.39 to 22.8), nextCheckOn '2026-11-25', vpdKpa 1, dueNow true
 */
export function drying({ checks, climate, asOf, prior, level }: DryingQuestion): Drying {
  const belief = believeDrying(checks, climate, asOf, prior);
  const vpdKpa = belief.air.nowKpa;
  const due = waterDueOn(belief, asOf);
  const days = (probability: number) => exposureAt(belief, probability) / vpdKpa;
  const tail = (1 - level) / 2;
  return {
    daysToDry: { median: days(0.5), lower: days(tail), upper: days(1 - tail) },
    nextCheckOn: due < asOf ? asOf : due,
    vpdKpa,
    dueNow: due <= asOf,
  };
}
