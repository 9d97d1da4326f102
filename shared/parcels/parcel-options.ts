import type { Day } from '../days.ts';
import { type Given, heatGiven } from './heat-given.ts';
import { TOUCH_C } from './inside.ts';
import { type Load, loadsOf, type RefusedOption } from './loads.ts';
import { verdictOf } from './parcel.ts';
import type { ParcelLimits } from './parcel-form.ts';
import type { ParcelOptionsQuestion, Scenario, Way } from './parcel-options-form.ts';
import { type Air, lastHourOf, type Run, runParcel } from './run-parcel.ts';
import { tightestLimits } from './tightest-limits.ts';
import { type KnownAir, lateWords, type Trip, tripsOf } from './trip-air.ts';

/** How one parcel could be sent. `pack` is null for none; `cost` in minor units. */
export interface ParcelOption {
  box: string;
  pack: string | null;
  packs: number;
  dispatchOn: Day;
  arrivesOn: Day;
  way: Way;
  cost: number;
  /** Over all scenarios. */
  lowestC: number;
  highestC: number;
}

export interface ParcelOptions {
  limits: ParcelLimits;
  options: ParcelOption[];
  refused: RefusedOption[];
}

const scenarioWords: Record<Exclude<Scenario, 'late'>, string> = {
  forecast: 'as forecast',
  colder: 'should it be colder than forecast',
  warmer: 'should it be warmer than forecast',
};

const whenWords = (scenario: Scenario, { lateHours }: KnownAir): string =>
  scenario === 'late' ? lateWords(lateHours) : scenarioWords[scenario];

/** Writes a temperature; pages hand in their reader's way. */
export type SayTemp = (tempC: number) => string;
const inCelsius: SayTemp = (tempC) => `${Math.round(tempC * 10) / 10} °C`;

function whyUnsafe(load: Load, limits: ParcelLimits, run: Run, when: string, say: SayTemp): string {
  const isWarm = run.highestC > limits.safeHighC + TOUCH_C;
  const limit = isWarm ? `warmer than ${say(limits.safeHighC)}` : `colder than ${say(limits.safeLowC)}`;
  const makesIt = load.effect === (isWarm ? 'warms' : 'cools');
  const never = makesIt ? `never a ${isWarm ? 'heat' : 'cold'} pack here: ` : '';
  return `${never}${limit} within ${Math.max(1, Math.ceil(run.endHour))} h, ${when}`;
}

type Judged = { lowestC: number; highestC: number } | { why: string };

/** In this order most unsafe parcels are found out at once. */
const coldFirst: readonly Scenario[] = ['colder', 'warmer', 'late', 'forecast'];
const warmFirst: readonly Scenario[] = ['warmer', 'colder', 'late', 'forecast'];

/** What a load's packs give, by the length of the trip: the same for many trips. */
type HeatByHours = Map<number, readonly Given[]>;

function runIn(load: Load, air: Air, limits: ParcelLimits, kept: HeatByHours): Run {
  const { conductanceWPerK, node, start } = load;
  const endHour = lastHourOf(air);
  const heat = kept.get(endHour) ?? heatGiven(load.inside, endHour);
  kept.set(endHour, heat);
  return runParcel({ air, conductanceWPerK, node, start, heat, safe: limits, stopsWhenUnsafe: true });
}

/** One load through the air of one trip: its lowest and highest over all scenarios, or where it is not safe. */
function judge(load: Load, air: KnownAir, limits: ParcelLimits, kept: HeatByHours, say: SayTemp): Judged {
  let [lowestC, highestC] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const scenario of load.effect === 'warms' ? warmFirst : coldFirst) {
    if (scenario === 'forecast' && air.isOrdered) continue;
    const run = runIn(load, air.airs[scenario], limits, kept);
    if (verdictOf(run, limits) !== 'go') {
      const plain = runIn(load, air.airs.forecast, limits, kept);
      return verdictOf(plain, limits) === 'go'
        ? { why: whyUnsafe(load, limits, run, whenWords(scenario, air), say) }
        : { why: whyUnsafe(load, limits, plain, whenWords('forecast', air), say) };
    }
    lowestC = Math.min(lowestC, run.lowestC);
    highestC = Math.max(highestC, run.highestC);
  }
  return { lowestC, highestC };
}

/**
 * The same as `parcelOptions` with trips and loads at hand, for a page with many parcels: `tripsOf` once for each route,
 * `loadsOf` once for each parcel.
 */
export function optionsOn(
  trips: readonly Trip[],
  loads: readonly Load[],
  limits: ParcelLimits,
  { heldPrice = 0, say = inCelsius }: { heldPrice?: number; say?: SayTemp } = {},
): Omit<ParcelOptions, 'limits'> {
  const options: ParcelOption[] = [];
  const refused: RefusedOption[] = [];
  const ready = loads.map((load) => ({ load, kept: new Map() as HeatByHours }));
  for (const { dispatchOn, arrivesOn, way, air } of trips) {
    if ('why' in air) {
      refused.push({ box: null, pack: null, packs: 0, dispatchOn, way, why: air.why });
      continue;
    }
    for (const { load, kept } of ready) {
      const named = { box: load.box.name, pack: load.pack?.name ?? null, packs: load.packs, dispatchOn };
      const judged = judge(load, air, limits, kept, say);
      if ('why' in judged) refused.push({ ...named, way, why: judged.why });
      else
        options.push({
          ...named,
          arrivesOn,
          way,
          cost: load.cost + (way === 'held' ? heldPrice : 0),
          ...judged,
        });
    }
  }
  options.sort(byCost(limits));
  return { options, refused };
}

/** The cheapest first; of equals the one that leaves earlier, then the one that stays farther from the limits. */
const byCost = (limits: ParcelLimits) => {
  const room = (one: ParcelOption) =>
    Math.min(one.lowestC - limits.safeLowC, limits.safeHighC - one.highestC);
  return (a: ParcelOption, b: ParcelOption): number =>
    a.cost - b.cost ||
    (a.dispatchOn < b.dispatchOn ? -1 : a.dispatchOn > b.dispatchOn ? 1 : 0) ||
    room(b) - room(a);
};

/**
 * How a parcel can be sent: every box, with every pack that may sit in it, on every day, delivered or held at the
 * counter, run through the weather as forecast, colder, warmer, and a day late. Safe is what stays within the safe limits
 * of every species in every one of them; that is ranked by cost. Of everything else, the reason in a line. So there is
 * never a heat pack where any scenario goes above safeHighC, nor a cold pack where one falls below safeLowC.
 *
 * Units: minor units of money, litres, and those of `parcel`. It helps to decide; the carrier's rules and the law come
 * first.
 *
 * Errors: species that cannot share a parcel; legs that take longer than a trip.
 *
 * Source: `parcel`, `climateDay`; how much a forecast is off is the owner's to say (common practice, no source).
 *
 * @example // a steady 20 degrees all the way: the cheapest box, without a pack, on the first day
 */
export function parcelOptions(question: ParcelOptionsQuestion): ParcelOptions {
  const limits = tightestLimits(question.species);
  const { loads, refused } = loadsOf(question);
  const found = optionsOn(tripsOf(question), loads, limits, { heldPrice: question.heldPrice });
  return { limits, options: found.options, refused: [...refused, ...found.refused] };
}
