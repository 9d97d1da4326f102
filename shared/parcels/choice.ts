import type { Day } from '../days.ts';
import type { ParcelLimits } from './parcel-form.ts';
import type { Scenario } from './parcel-options-form.ts';
import type { WeatherPart } from './weather-form.ts';

/** A place of the trip whose weather was reckoned with: who forecast it, and when; null where the source is not known. */
export interface ChoicePlace {
  role: WeatherPart;
  name: string;
  source: string;
  readAt: number | null;
}

export interface ChoiceCurve {
  scenario: Scenario;
  /** Hours from the start of the trip, degrees Celsius. */
  points: { hour: number; insideC: number; outsideC: number }[];
}

/** What is kept of a decision besides its figures: as it was on the day, whatever changes later. */
export interface Decided {
  /** Inside measures. */
  box: { id: number; name: string; lengthMm: number; widthMm: number; heightMm: number };
  pack: { id: number; name: string; effect: 'warms' | 'cools' } | null;
  carrier: { id: number; name: string };
  places: ChoicePlace[];
  limits: ParcelLimits;
  curves: ChoiceCurve[];
  /** The refusals that were overridden. */
  why: string[];
}

/** What was decided for an order's parcel. Over all scenarios: lowest, highest, hours outside what is safe. */
export interface ParcelChoice extends Decided {
  id: number;
  orderId: number;
  dispatchOn: Day;
  arrivesOn: Day;
  /** HH:MM, as the carrier takes parcels until; null where there is no such time. */
  dispatchBy: string | null;
  packs: number;
  /** Held at a counter for pickup. */
  isHeld: boolean;
  transitHours: number;
  lowestC: number;
  highestC: number;
  hoursBelowSafe: number;
  hoursAboveSafe: number;
  isOverride: boolean;
  reason: string | null;
  chosenAt: number;
  /** The person's name; null where nobody is known any more. */
  chosenBy: string | null;
  /** Whether box and packs were taken out of the stock for it. */
  isTaken: boolean;
}

/**
 * A curve with at most so many points, its first, last, lowest and highest inside temperature among them.
 *
 * @example thinned([{ hour: 0, insideC: 20, outsideC: 5 }, { hour: 1, insideC: 18, outsideC: 5 }], 60).length // 2
 */
export function thinned<Point extends { hour: number; insideC: number }>(
  points: readonly Point[],
  most: number,
): Point[] {
  if (points.length <= most || most < 5) return [...points];
  const last = points.length - 1;
  let [lowest, highest] = [0, 0];
  for (const [i, { insideC }] of points.entries()) {
    if (insideC < (points[lowest]?.insideC ?? 0)) lowest = i;
    if (insideC > (points[highest]?.insideC ?? 0)) highest = i;
  }
  const evenly = most - 2;
  const kept = new Set([lowest, highest]);
  for (let i = 0; i < evenly; i += 1) kept.add(Math.round((i * last) / (evenly - 1)));
  return points.filter((_, i) => kept.has(i));
}
