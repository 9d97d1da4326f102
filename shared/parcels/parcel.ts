import { conductanceOf } from './conductance.ts';
import { nodeOf, startingWarmth } from './heat-content.ts';
import { heatGiven } from './heat-given.ts';
import { TOUCH_C } from './inside.ts';
import type { ParcelLimits, ParcelQuestion } from './parcel-form.ts';
import { airOfPoints, lastHourOf, type Run, runParcel } from './run-parcel.ts';

export type Verdict = 'go' | 'caution' | 'do not send';

export interface ParcelAnswer {
  inside: { hour: number; tempC: number }[];
  lowestC: number;
  highestC: number;
  hoursBelowSafe: number;
  hoursAboveSafe: number;
  verdict: Verdict;
}

/**
 * What a trip's lowest and highest temperature mean for the animals: `do not send` when a lethal limit is reached,
 * `caution` when a safe limit is crossed, else `go`.
 *
 * @example verdictOf({ lowestC: 4, highestC: 24 }, { lethalLowC: 0, safeLowC: 8, safeHighC: 28, lethalHighC: 33 })
 * // 'caution'
 */
export function verdictOf(
  { lowestC, highestC }: Pick<Run, 'lowestC' | 'highestC'>,
  limits: ParcelLimits,
): Verdict {
  if (lowestC <= limits.lethalLowC + TOUCH_C || highestC >= limits.lethalHighC - TOUCH_C)
    return 'do not send';
  if (lowestC < limits.safeLowC - TOUCH_C || highestC > limits.safeHighC + TOUCH_C) return 'caution';
  return 'go';
}

/** The hours at which the inside is told: every step, and the end. */
export function stepsTo(endHour: number, stepMinutes: number): Float64Array {
  const perHour = 60 / stepMinutes;
  const whole = Math.floor(endHour * perHour + 1e-9);
  const hours = Array.from({ length: whole + 1 }, (_, i) => Math.min(endHour, i / perHour));
  if ((hours.at(-1) ?? 0) < endHour - 1e-9) hours.push(endHour);
  return Float64Array.from(hours);
}

/**
 * What the animals feel on the way. The contents are one well-mixed node of massKg x heatCapacity, with one conductance
 * to the air outside, and the packs inside: heat packs give their watts (rising evenly through the warm-up, off after
 * `hours`), melting packs join the node with their sensible heat and hold it at meltingC while they melt or freeze. All
 * starts at the temperature to which contents and packs come together. Energy is conserved; steps are exact.
 *
 * Units: hours from the start of the trip, degrees Celsius, kilograms, J/(kg K), J/kg, watts, W/K, millimetres.
 *
 * Not for parcels in the sun, in wind or wet, for a box with vents, or for the cup that touches a pack: the node is the
 * mean of all that is in the box. A heat pack in a tight box gives less than it says, for want of air. It helps to
 * decide; when in doubt, do not send.
 *
 * Errors: an ambient curve that does not start at hour 0 or runs backwards; limits out of order; a box given twice over.
 *
 * Source: lumped capacitance, Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, chapter 5 (from memory).
 *
 * @example parcel({ ambient: [{ hour: 0, tempC: 0 }, { hour: 10, tempC: 0 }], box: { conductanceWPerK: 0.1 },
 *   contents: { massKg: 1, heatCapacityJPerKgK: 3600 }, startTempC: 20, packs: [],
 *   limits: { lethalLowC: 0, safeLowC: 8, safeHighC: 28, lethalHighC: 33 }, stepMinutes: 60 }).lowestC // 20 / e = 7.36
 */
export function parcel(question: ParcelQuestion): ParcelAnswer {
  const { contents, packs, limits } = question;
  const air = airOfPoints(question.ambient);
  const endHour = lastHourOf(air);
  const node = nodeOf(contents, packs);
  const at = stepsTo(endHour, question.stepMinutes);
  const run = runParcel({
    air,
    conductanceWPerK: conductanceOf(question.box),
    node,
    start: startingWarmth(node, contents, packs, question.startTempC),
    heat: heatGiven(packs, endHour),
    safe: limits,
    at,
  });
  return {
    inside: [...at].map((hour, i) => ({ hour, tempC: run.inside[i] ?? Number.NaN })),
    lowestC: run.lowestC,
    highestC: run.highestC,
    hoursBelowSafe: run.hoursBelowSafe,
    hoursAboveSafe: run.hoursAboveSafe,
    verdict: verdictOf(run, limits),
  };
}
