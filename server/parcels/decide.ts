import { CalculationError } from '../../shared/faults.ts';
import type { Decided } from '../../shared/parcels/choice.ts';
import { keptCurve } from '../../shared/parcels/kept-curve.ts';
import type { Load } from '../../shared/parcels/loads.ts';
import { neverRule } from '../../shared/parcels/never-rule.ts';
import { curvesOf, type ScenarioCurve } from '../../shared/parcels/option-curves.ts';
import {
  daysOnTheWay,
  judgeOrder,
  madeOf,
  outlookOf,
  tripsOfRoute,
} from '../../shared/parcels/packing-day.ts';
import type { Judged, OrderOutlook, Picked } from '../../shared/parcels/packing-day-form.ts';
import { plannedHours } from '../../shared/parcels/way-of-parcel.ts';
import type { StaffCall } from '../plumbing/call.ts';
import type { Db } from '../plumbing/open-database.ts';
import { type DayToPack, dayOrderOf, type OrderOnItsWay } from './day-question.ts';
import { boxNamed, packNamed } from './queries-stock.ts';

/** An option looked at closely: what it would do to the animals, and why it is refused where it is. */
export interface Decision {
  picked: Picked;
  load: Load;
  arrivesOn: string;
  cost: number;
  curves: ScenarioCurve[];
  /** Why it is refused; empty where it is not. */
  why: string[];
  /** Set where nobody may set the refusal aside. */
  never: string | null;
  lowestC: number;
  highestC: number;
  hoursBelowSafe: number;
  hoursAboveSafe: number;
  transitHours: number;
}

/** Every option of one order, and how it stands; or why there are none. */
export type Looked = { judged: Judged; outlook: OrderOutlook } | { why: string };

export function lookAt({ question }: DayToPack, one: OrderOnItsWay, call: StaffCall): Looked | null {
  const route = question.routes.find(({ key }) => key === one.routeKey);
  if (one.missing !== null || !route) return null;
  try {
    const order = dayOrderOf(one, call.today);
    const judged = judgeOrder(question, order, route, tripsOfRoute(route));
    return { judged, outlook: outlookOf(question, order, route, judged) };
  } catch (error) {
    if (!(error instanceof CalculationError)) throw error;
    return { why: error.message };
  }
}

const sameAs =
  (picked: Picked) =>
  (one: {
    box: string | null;
    pack: string | null;
    packs: number;
    dispatchOn: string | null;
    way: string | null;
  }) =>
    one.box === picked.box &&
    one.pack === picked.pack &&
    one.packs === picked.packs &&
    one.dispatchOn === picked.dispatchOn &&
    one.way === picked.way;

/** Looks at one option closely; null where there is none of the kind, or no forecast for it. */
export function decisionOn(
  { habits }: DayToPack,
  { carrier }: OrderOnItsWay,
  judged: Judged,
  picked: Picked,
): Decision | null {
  const made = madeOf(judged, picked);
  if (!made || !carrier || 'why' in made.trip.air) return null;
  const { trip, load } = made;
  const curves = curvesOf(trip, load, judged.limits);
  const most = (key: 'hoursBelowSafe' | 'hoursAboveSafe') => Math.max(...curves.map((curve) => curve[key]));
  const option = judged.options.find(sameAs(picked));
  const refusals = judged.refused.filter(sameAs(picked)).map(({ why }) => why);
  return {
    picked,
    load,
    arrivesOn: trip.arrivesOn,
    cost: load.cost + (picked.way === 'held' ? carrier.holdPriceMinor : 0),
    curves,
    why: option ? [] : refusals,
    never: neverRule(load, curves, judged.limits),
    lowestC: Math.min(...curves.map(({ lowestC }) => lowestC)),
    highestC: Math.max(...curves.map(({ highestC }) => highestC)),
    hoursBelowSafe: most('hoursBelowSafe'),
    hoursAboveSafe: most('hoursAboveSafe'),
    transitHours: plannedHours(carrier, habits, daysOnTheWay(trip), picked.way),
  };
}

/** A decision as it is kept; null where its box or pack is gone by now. */
export function keptDecision(db: Db, one: OrderOnItsWay, judged: Judged, decision: Decision) {
  const { picked } = decision;
  const box = boxNamed(db, picked.box);
  const pack = picked.pack === null ? null : packNamed(db, picked.pack);
  const { carrier } = one;
  if (!box || pack === undefined || !carrier) return null;
  const load = madeOf(judged, picked)?.load;
  const decided: Decided = {
    box: {
      id: box.id,
      name: box.name,
      lengthMm: box.lengthMm,
      widthMm: box.widthMm,
      heightMm: box.heightMm,
    },
    pack: pack && {
      id: pack.id,
      name: pack.name,
      effect: load?.effect ?? (pack.kind === 'heat' ? 'warms' : 'cools'),
    },
    carrier: { id: carrier.id, name: carrier.name },
    places: one.places,
    limits: judged.limits,
    curves: decision.curves.map((curve) => keptCurve(curve)),
    why: decision.why,
  };
  return {
    orderId: one.order.id,
    dispatchOn: picked.dispatchOn,
    arrivesOn: decision.arrivesOn,
    dispatchBy: carrier.cutOff,
    carrierId: carrier.id,
    boxId: box.id,
    packId: pack?.id ?? null,
    packs: picked.packs,
    isHeld: picked.way === 'held',
    lowestC: decision.lowestC,
    highestC: decision.highestC,
    hoursBelowSafe: decision.hoursBelowSafe,
    hoursAboveSafe: decision.hoursAboveSafe,
    transitHours: decision.transitHours,
    decided,
  };
}
export type KeptDecision = NonNullable<ReturnType<typeof keptDecision>>;
