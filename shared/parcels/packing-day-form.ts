import type { Day } from '../days.ts';
import type { UnitSystem } from '../settings/units.ts';
import type { ChoiceCurve } from './choice.ts';
import type { FiguresOfRun } from './figures-of-run.ts';
import type { Load, RefusedOption } from './loads.ts';
import type { ParcelLimits } from './parcel-form.ts';
import type { ParcelOption } from './parcel-options.ts';
import type {
  BoxOption,
  PackOption,
  ParcelOptionsQuestion,
  Route,
  SpeciesLimits,
  TripDay,
  Way,
} from './parcel-options-form.ts';
import type { Trip } from './trip-air.ts';

/** A way that many orders share: a carrier to a place. `closed`: days on which it does not start, and why. */
export interface DayRoute {
  key: string;
  route: Route;
  days: TripDay[];
  closed: { date: Day; why: string }[];
  ways: Way[];
  heldPrice: number;
}

export interface DayOrder {
  id: number;
  routeKey: string;
  /** It does not leave before: the day it was written down for, or held until. */
  earliest: Day;
  species: SpeciesLimits[];
  contents: ParcelOptionsQuestion['contents'];
  /** What was decided for it before. */
  chosen?: Picked | undefined;
}

/** What tells one option of an order from the others. */
export type Picked = Pick<ParcelOption, 'box' | 'pack' | 'packs' | 'dispatchOn' | 'way'>;

/** Plain data all through, so that it can be handed to a thread. */
export interface PackingDayQuestion {
  from: Day;
  days: number;
  boxes: BoxOption[];
  packs: PackOption[];
  startTempC: number;
  routes: DayRoute[];
  orders: DayOrder[];
  units: UnitSystem;
  locale: string;
}

/** `safe`: as it is; `helped`: with a pack or held at the counter. */
export type DayKind = 'safe' | 'helped' | 'refused' | 'unknown' | 'closed' | 'early';
export interface DayOutlook {
  date: Day;
  kind: DayKind;
  why: string | null;
}

/** `careful`: it can go, with help or close to a limit; `wait`: a later day; `never`: no day of those ahead. */
export type Stand = 'go' | 'careful' | 'wait' | 'never' | 'later' | 'unknown';

/** Why it is the best one: what else there was on its day, and what it was run with. */
export interface WhyBest {
  /** Ways to send it on that day in all, and how many of them are safe in every weather. */
  ways: number;
  safe: number;
  /** The one that comes after it on that day. */
  next: ParcelOption | null;
  /** What being held at the counter costs, where it is held; minor units. */
  heldPrice: number;
  ran: FiguresOfRun;
}

export interface OrderOutlook {
  id: number;
  stand: Stand;
  best: ParcelOption | null;
  whyBest: WhyBest | null;
  days: DayOutlook[];
  /** Why it does not leave on the first day it could. */
  why: string | null;
  limits: ParcelLimits | null;
  /** Of the best. */
  curves: ChoiceCurve[];
  /** Why what was decided would be refused by now; null where it would not, or where nothing is decided. */
  chosenWhy: string | null;
}

/** One order with all there is to know about its options. */
export interface Judged {
  limits: ParcelLimits;
  loads: Load[];
  trips: readonly Trip[];
  options: ParcelOption[];
  refused: RefusedOption[];
}
