import { addDays, type Day, daysBetween } from '../days.ts';
import { CalculationError } from '../faults.ts';
import { formatTemp } from '../settings/units.ts';
import { figuresOfRun } from './figures-of-run.ts';
import { keptCurve } from './kept-curve.ts';
import type { Load } from './loads.ts';
import { loadsOf, type RefusedOption } from './loads.ts';
import { curvesOf, type ScenarioCurve } from './option-curves.ts';
import type {
  DayOrder,
  DayOutlook,
  DayRoute,
  Judged,
  OrderOutlook,
  PackingDayQuestion,
  Picked,
  Stand,
  WhyBest,
} from './packing-day-form.ts';
import type { ParcelLimits } from './parcel-form.ts';
import { optionsOn, type ParcelOption, type SayTemp } from './parcel-options.ts';
import { tightestLimits } from './tightest-limits.ts';
import { type Trip, tripsOf } from './trip-air.ts';

/** This close to a safe limit, whoever packs should look twice. */
export const CLOSE_C = 2;

/** A parcel has few limits and many refusals: each temperature is put into words once. */
function sayIn({ units, locale }: Pick<PackingDayQuestion, 'units' | 'locale'>): SayTemp {
  const said = new Map<number, string>();
  return (tempC) => {
    const words = said.get(tempC) ?? formatTemp(tempC, units, locale);
    said.set(tempC, words);
    return words;
  };
}

export const tripsOfRoute = ({ days, ways, route }: DayRoute): Trip[] => tripsOf({ days, ways, route });

/** Every option of one order; throws a `CalculationError` where its species cannot share a parcel. */
export function judgeOrder(
  question: Omit<PackingDayQuestion, 'orders' | 'routes'>,
  order: DayOrder,
  { heldPrice }: Pick<DayRoute, 'heldPrice'>,
  trips: readonly Trip[],
): Judged {
  const limits = tightestLimits(order.species);
  const { boxes, packs, startTempC } = question;
  const { loads, refused } = loadsOf({ boxes, packs, contents: order.contents, startTempC });
  const found = optionsOn(trips, loads, limits, { heldPrice, say: sayIn(question) });
  return { limits, loads, trips, options: found.options, refused: [...refused, ...found.refused] };
}

const isUnknown = ({ why }: RefusedOption) => why.startsWith('no forecast');

/** The plainest of a day's refusals: delivered, without a pack. */
const plainest = (refused: readonly RefusedOption[]): RefusedOption | undefined =>
  refused.find(({ pack, way }) => pack === null && way !== 'held') ?? refused[0];

/** Why help does not help: what no pack makes worse comes first. */
function whyNoHelp(refused: readonly RefusedOption[], plain: RefusedOption | undefined): string {
  const helped = refused.filter(({ pack, way }) => pack !== null && way !== 'held');
  const one = helped.findLast(({ why }) => !why.startsWith('never')) ?? helped.at(-1);
  return !one || !plain || one.why === plain.why ? '' : `; with ${one.pack} in ${one.box}: ${one.why}`;
}

function dayOutlook(date: Day, order: DayOrder, { closed }: DayRoute, judged: Judged): DayOutlook {
  if (date < order.earliest) return { date, kind: 'early', why: null };
  const shut = closed.find((one) => one.date === date);
  if (shut) return { date, kind: 'closed', why: shut.why };
  const own = judged.options.filter(({ dispatchOn }) => dispatchOn === date);
  if (own.length > 0) {
    const isPlain = own.some(({ pack, way }) => pack === null && way === 'delivered');
    return { date, kind: isPlain ? 'safe' : 'helped', why: null };
  }
  const refused = judged.refused.filter(({ dispatchOn }) => dispatchOn === date);
  const reason = plainest(refused) ?? plainest(judged.refused);
  const unknown = refused.length > 0 && refused.every(isUnknown);
  const why = reason ? `${reason.why}${whyNoHelp(refused, reason)}` : 'no box is in stock';
  return { date, kind: unknown ? 'unknown' : 'refused', why };
}

const isClose = ({ lowestC, highestC }: ParcelOption, { safeLowC, safeHighC }: ParcelLimits) =>
  Math.min(lowestC - safeLowC, safeHighC - highestC) < CLOSE_C;

function standOf(best: ParcelOption | null, days: readonly DayOutlook[], limits: ParcelLimits): Stand {
  const open = days.filter(({ kind }) => kind !== 'closed' && kind !== 'early');
  if (!best) {
    if (days.every(({ kind }) => kind === 'early')) return 'later';
    return open.length > 0 && open.every(({ kind }) => kind === 'unknown') ? 'unknown' : 'never';
  }
  if (open[0] && open[0].date < best.dispatchOn) return 'wait';
  return best.pack !== null || best.way === 'held' || isClose(best, limits) ? 'careful' : 'go';
}

const daysAhead = ({ from, days }: Pick<PackingDayQuestion, 'from' | 'days'>): Day[] =>
  Array.from({ length: days }, (_, i) => addDays(from, i));

/**
 * The best of an order's options: on the first day that is safe at all, the cheapest (of equals the farthest from the
 * limits); animals that wait cost nothing, but a customer waits for them.
 */
const bestOf = (options: readonly ParcelOption[], earliest: Day): ParcelOption | null =>
  options
    .filter(({ dispatchOn }) => dispatchOn >= earliest)
    .reduce<ParcelOption | null>(
      (best, one) => (best === null || one.dispatchOn < best.dispatchOn ? one : best),
      null,
    );

/** The load and the trip an option is made of; null where there is none of the kind. */
export function madeOf(
  { loads, trips }: Pick<Judged, 'loads' | 'trips'>,
  of: Picked,
): { load: Load; trip: Trip } | null {
  const load = loads.find(
    ({ box, pack, packs }) => box.name === of.box && (pack?.name ?? null) === of.pack && packs === of.packs,
  );
  const trip = trips.find(({ dispatchOn, way }) => dispatchOn === of.dispatchOn && way === of.way);
  return load && trip ? { load, trip } : null;
}

/** Why what was decided is refused now, whatever is left in stock: it has its box and its packs already. */
function chosenWhy(
  question: Omit<PackingDayQuestion, 'orders' | 'routes'>,
  { chosen, contents }: DayOrder,
  { limits, trips }: Judged,
): string | null {
  if (!chosen) return null;
  const boxes = question.boxes.filter(({ name }) => name === chosen.box);
  const packs = question.packs.filter(({ name }) => name === chosen.pack);
  if (boxes.length === 0) return `${chosen.box} is not offered any more`;
  if (chosen.pack !== null && packs.length === 0) return `${chosen.pack} is not offered any more`;
  const uncounted = <T>(one: T) => ({ ...one, left: null });
  const { loads, refused } = loadsOf({
    boxes: boxes.map(uncounted),
    packs: packs.map(uncounted),
    contents,
    startTempC: question.startTempC,
  });
  const made = madeOf({ loads, trips }, chosen);
  if (!made) {
    const isThere = trips.some(({ dispatchOn }) => dispatchOn === chosen.dispatchOn);
    return isThere
      ? (refused[0]?.why ?? 'it cannot be packed so')
      : 'the carrier does not take it on its day';
  }
  const again = optionsOn([made.trip], [made.load], limits, { say: sayIn(question) });
  return again.refused[0]?.why ?? null;
}

function whyBestOf(
  best: ParcelOption,
  load: Load,
  curves: readonly ScenarioCurve[],
  { options, refused }: Judged,
  { heldPrice }: DayRoute,
): WhyBest {
  const isThatDay = ({ dispatchOn }: { dispatchOn: Day | null }) => dispatchOn === best.dispatchOn;
  const safe = options.filter(isThatDay);
  return {
    ways: safe.length + refused.filter(isThatDay).length,
    safe: safe.length,
    next: safe.find((one) => one !== best) ?? null,
    heldPrice: best.way === 'held' ? heldPrice : 0,
    ran: figuresOfRun(load, curves),
  };
}

export function outlookOf(
  question: Omit<PackingDayQuestion, 'orders' | 'routes'>,
  order: DayOrder,
  route: DayRoute,
  judged: Judged,
): OrderOutlook {
  const days = daysAhead(question).map((date) => dayOutlook(date, order, route, judged));
  const best = bestOf(judged.options, order.earliest);
  const made = best && madeOf(judged, best);
  const curves = made ? curvesOf(made.trip, made.load, judged.limits, 120) : [];
  const firstOpen = days.find(({ kind }) => kind !== 'closed' && kind !== 'early');
  return {
    id: order.id,
    stand: standOf(best, days, judged.limits),
    best,
    whyBest: best && made ? whyBestOf(best, made.load, curves, judged, route) : null,
    days,
    why: firstOpen?.why ?? days.find(({ kind }) => kind === 'closed')?.why ?? null,
    limits: judged.limits,
    curves: curves.map((curve) => keptCurve(curve, 40)),
    chosenWhy: chosenWhy(question, order, judged),
  };
}

const cannotBe = (order: DayOrder, why: string): OrderOutlook => ({
  id: order.id,
  stand: 'never',
  best: null,
  whyBest: null,
  days: [],
  why,
  limits: null,
  curves: [],
  chosenWhy: null,
});

/**
 * A packing day: every order against the days ahead, with the best it can be sent by, what each day is like, and why it
 * does not leave sooner. It helps to decide; the carrier's rules and the law come first.
 *
 * Units: degrees Celsius, kilograms, litres, hours; prices in minor units.
 *
 * Errors: what is wrong with one order (species that cannot share a parcel, a carrier's hours that are longer than the
 * trip) is told at that order and stops no other.
 *
 * @example packingDay({ from: '2026-11-25', days: 10, boxes, packs: [], startTempC: 20, routes, orders, units: 'metric',
 *   locale: 'en' })[0].stand // 'go'
 */
export function packingDay(question: PackingDayQuestion): OrderOutlook[] {
  const routes = new Map<string, { route: DayRoute; trips: Trip[] | string }>();
  for (const route of question.routes)
    routes.set(route.key, { route, trips: orWhy(() => tripsOfRoute(route)) });
  return question.orders.map((order) => {
    const found = routes.get(order.routeKey);
    if (!found) return cannotBe(order, 'no carrier');
    const { route, trips } = found;
    if (typeof trips === 'string') return cannotBe(order, trips);
    const judged = orWhy(() => judgeOrder(question, order, route, trips));
    return typeof judged === 'string' ? cannotBe(order, judged) : outlookOf(question, order, route, judged);
  });
}

function orWhy<T>(work: () => T): T | string {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof CalculationError)) throw error;
    return error.path === 'route.legs' ? `the carrier’s hours ${error.message}` : error.message;
  }
}

/** How many runs of a parcel a question stands for: what decides whether it is worked out in a thread. */
export function sizeOf({ boxes, packs, routes, orders }: PackingDayQuestion): number {
  const loads = boxes.length * (1 + packs.reduce((sum, { most }) => sum + most, 0));
  const trips = new Map(routes.map(({ key, days, ways }) => [key, days.length * ways.length]));
  return loads * orders.reduce((sum, { routeKey }) => sum + (trips.get(routeKey) ?? 0), 0);
}

/** Days a parcel is on its way. */
export const daysOnTheWay = ({
  dispatchOn,
  arrivesOn,
}: Pick<ParcelOption, 'dispatchOn' | 'arrivesOn'>): number => daysBetween(dispatchOn, arrivesOn);
