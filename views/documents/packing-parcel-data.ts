import type { PlaceForPack } from '../../shared/documents/place-for-pack.ts';
import type { Measures, Standing } from '../../shared/documents/stand-cups.ts';
import type { Scenario } from '../../shared/parcels/parcel-options-form.ts';
import type { PackingOverride } from './packing-sheet-data.ts';

/** What was chosen for a parcel, as far as the bench has to know. */
export interface PackingParcel {
  boxName: string;
  carrier: string;
  /** Of the box, inside. */
  inside: Measures;
  /** How the cups stand in it; null where the measures of some are not known. */
  standing: Standing | null;
  pack: PackingPack | null;
  /** Whether the carrier keeps the parcel at a counter until it is collected. */
  isHeld: boolean;
  transitHours: number;
  /** The day it was reckoned for, where that is not the order's day any more. */
  otherDay: string | null;
  weather: PackingWeather[];
  limits: { safeLowC: number; safeHighC: number };
  curves: PackingCurve[];
  hoursBelowSafe: number;
  hoursAboveSafe: number;
  /** Set where the parcel goes out against the calculation. */
  override: PackingOverride | null;
  /** Who decided, and when, in words. */
  chosen: string;
}

export interface PackingPack {
  name: string;
  effect: 'warms' | 'cools';
  count: number;
  place: PlaceForPack;
  /** When it is started, in words; null where it needs no start or no time is known. */
  startAt: string | null;
  /** Hours it takes to be warm; 0 for what is not started. */
  warmUpHours: number;
}

/** Where the weather of the trip is from. */
export interface PackingWeather {
  role: 'origin' | 'hub' | 'destination';
  place: string;
  source: string;
  /** When it was read, with its age, in words; null where that is not known. */
  read: string | null;
}

export interface PackingCurve {
  scenario: Scenario;
  points: { hour: number; insideC: number; outsideC: number }[];
}
