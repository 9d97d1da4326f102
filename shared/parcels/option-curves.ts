import { heatGiven } from './heat-given.ts';
import type { Load } from './loads.ts';
import { stepsTo, type Verdict, verdictOf } from './parcel.ts';
import type { ParcelLimits } from './parcel-form.ts';
import { SCENARIOS, type Scenario } from './parcel-options-form.ts';
import { lastHourOf, runParcel } from './run-parcel.ts';
import type { Trip } from './trip-air.ts';

export interface ScenarioCurve {
  scenario: Scenario;
  inside: { hour: number; tempC: number }[];
  outside: { hour: number; tempC: number }[];
  lowestC: number;
  highestC: number;
  hoursBelowSafe: number;
  hoursAboveSafe: number;
  verdict: Verdict;
}

/**
 * One load through one trip in full, every scenario with its curve: what a page draws and a sheet prints, also for an
 * option that was refused and that somebody wants to send all the same.
 */
export function curvesOf(trip: Trip, load: Load, limits: ParcelLimits, stepMinutes = 30): ScenarioCurve[] {
  const { air } = trip;
  if ('why' in air) return [];
  return SCENARIOS.map((scenario) => {
    const own = air.airs[scenario];
    const endHour = lastHourOf(own);
    const at = stepsTo(endHour, stepMinutes);
    const { conductanceWPerK, node, start, inside: packs } = load;
    const heat = heatGiven(packs, endHour);
    const run = runParcel({ air: own, conductanceWPerK, node, start, heat, safe: limits, at });
    const { lowestC, highestC, hoursBelowSafe, hoursAboveSafe } = run;
    return {
      scenario,
      inside: [...at].map((hour, i) => ({ hour, tempC: run.inside[i] ?? Number.NaN })),
      outside: [...own.hours].map((hour, i) => ({ hour, tempC: own.tempC[i] ?? Number.NaN })),
      lowestC,
      highestC,
      hoursBelowSafe,
      hoursAboveSafe,
      verdict: verdictOf(run, limits),
    };
  });
}
