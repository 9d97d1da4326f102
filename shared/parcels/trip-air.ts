import { addDays, type Day, daysBetween, toEpochDay } from '../days.ts';
import { CalculationError } from '../faults.ts';
import { climateDay } from './climate-day.ts';
import {
  type Leg,
  type PlaceWeather,
  type Route,
  SCENARIOS,
  type Scenario,
  type TripDay,
  type Way,
} from './parcel-options-form.ts';
import { type Air, airOfPoints } from './run-parcel.ts';

/** The hours of each day of a place whose low and high are known, by the number of the day. */
type HoursByDay = ReadonlyMap<number, readonly number[]>;

/**
 * The air of a trip in every scenario, or why it is not known. Ordered: the forecast lies between colder and warmer all
 * the way, so whatever both allow is safe as forecast too: colder air never gives a warmer inside.
 */
export type KnownAir = { airs: Airs; isOrdered: boolean; lateHours: number };
export type TripAir = KnownAir | { why: string };
type Airs = Readonly<Record<Scenario, Air>>;

/** A trip that could be made: which day, by which way, through which air. */
export interface Trip {
  dispatchOn: Day;
  arrivesOn: Day;
  way: Way;
  air: TripAir;
}

/** The hours of a place's days, by days in a row: a gap is a new start. */
function hoursByDay({ days, latitude }: PlaceWeather): HoursByDay {
  const numbered = days.map((one) => ({ ...one, number: toEpochDay(one.date) }));
  numbered.sort((a, b) => a.number - b.number);
  const found = new Map<number, number[]>();
  for (let from = 0; from < numbered.length; ) {
    let to = from + 1;
    while (to < numbered.length && numbered[to]?.number === (numbered[to - 1]?.number ?? 0) + 1) to += 1;
    const { hours } = climateDay({ days: numbered.slice(from, to), latitude });
    for (let i = from; i < to; i += 1) {
      const own = hours.slice(24 * (i - from), 24 * (i - from + 1)).map(({ tempC }) => tempC);
      found.set(numbered[i]?.number ?? 0, own);
    }
    from = to;
  }
  return found;
}

/** A leg with the hours it takes, from when to when, counted from midnight of the day of dispatch. */
interface Stage {
  leg: Leg;
  from: number;
  to: number;
}

const USUALLY_LATE_H = 24;

/** What stands behind a reason that holds for a late parcel only. */
export const lateWords = (hours: number): string =>
  hours === USUALLY_LATE_H ? 'should it be a day late' : `should it be ${hours} h late`;

/** The legs of one way, one after the other; `lateH` are added to the leg that is as long as it takes. */
function stagesOf(route: Route, trip: TripDay, way: Way, lateH: number): Stage[] {
  const legs = route.legs.filter((leg) => leg.way === null || leg.way === way);
  const arrives = 24 * daysBetween(trip.dispatchOn, trip.arrivesOn) + route.deliveredAtHour;
  const fixed = legs.reduce((sum, leg) => sum + (leg.afterArrival ? 0 : (leg.hours ?? 0)), 0);
  const open = arrives - route.packedAtHour - fixed;
  if (open <= 0)
    throw new CalculationError(
      `take ${fixed} h, longer than the trip that starts on ${trip.dispatchOn}`,
      'route.legs',
    );
  let at = route.packedAtHour;
  return [...legs.filter((leg) => !leg.afterArrival), ...legs.filter((leg) => leg.afterArrival)].map(
    (leg) => {
      const from = at;
      at += leg.hours ?? open + lateH;
      return { leg, from, to: at };
    },
  );
}

type Weather = ReadonlyMap<string, HoursByDay>;
/** `doubtC`: what the forecast may be off by at that point. */
type Point = { hour: number; tempC: number; doubtC: number };

/** The temperature of a place at an hour from midnight of a day; undefined where its day is not known. */
function weatherAt(hours: HoursByDay | undefined, midnight: number, hour: number): number | undefined {
  const whole = Math.floor(hour);
  const own = hours?.get(midnight + Math.floor(whole / 24))?.[whole % 24];
  if (own === undefined || whole === hour) return own;
  const next = hours?.get(midnight + Math.floor((whole + 1) / 24))?.[(whole + 1) % 24] ?? own;
  return own + (next - own) * (hour - whole);
}

/** A leg that ends at midnight needs no next day. */
const lastMoment = (to: number) => (to % 24 === 0 ? to - 1e-9 : to);

function pointsOf(
  route: Route,
  weather: Weather,
  stages: readonly Stage[],
  dispatchOn: Day,
): Point[] | string {
  const start = stages[0]?.from ?? 0;
  const midnight = toEpochDay(dispatchOn);
  const ahead = midnight - toEpochDay(route.forecastOn);
  const { atOnce, perDay } = route.errorC;
  const points: Point[] = [];
  for (const { leg, from, to } of stages) {
    const { place, steadyC, warmerByC } = leg;
    if (steadyC !== undefined || place === undefined) {
      for (const at of [from, to])
        points.push({ hour: at - start, tempC: (steadyC ?? 0) + warmerByC, doubtC: 0 });
      continue;
    }
    const hours = weather.get(place);
    const last = lastMoment(to);
    for (let at = from; ; at = Math.min(last, Math.floor(at) + 1)) {
      const tempC = weatherAt(hours, midnight, at);
      if (tempC === undefined)
        return `no forecast for ${place} on ${addDays(dispatchOn, Math.floor(at / 24))}`;
      const doubtC = atOnce + perDay * Math.max(0, ahead + Math.floor(at / 24));
      points.push({ hour: at - start, tempC: tempC + warmerByC, doubtC });
      if (at >= last) break;
    }
  }
  return points;
}

function airOf(points: readonly Point[], shift: number): Air {
  return airOfPoints(points.map(({ hour, tempC, doubtC }) => ({ hour, tempC: tempC + shift * doubtC })));
}

function airOfTrip(route: Route, weather: Weather, trip: TripDay, way: Way): TripAir {
  const points = pointsOf(route, weather, stagesOf(route, trip, way, 0), trip.dispatchOn);
  if (typeof points === 'string') return { why: points };
  const lateHours = route.lateHours ?? USUALLY_LATE_H;
  const late = pointsOf(route, weather, stagesOf(route, trip, way, lateHours), trip.dispatchOn);
  if (typeof late === 'string') return { why: `${late}, ${lateWords(lateHours)}` };
  const airs = {
    forecast: airOf(points, 0),
    colder: airOf(points, -1),
    warmer: airOf(points, 1),
    late: airOf(late, 0),
  };
  return { airs, isOrdered: true, lateHours };
}

function givenAir(trip: TripDay, way: Way): TripAir | null {
  const curves = trip[way];
  if (!curves) return null;
  const airs = SCENARIOS.map((scenario) => [scenario, airOfPoints(curves[scenario])] as const);
  return {
    airs: Object.fromEntries(airs) as Record<Scenario, Air>,
    isOrdered: false,
    lateHours: USUALLY_LATE_H,
  };
}

/**
 * The trips that could be made: every day, by every way, with the air outside in every scenario. Lows and highs become
 * hours (`climateDay`), legs follow one another, colder and warmer move the weather by the error of the forecast, which
 * grows with each day ahead, and a late parcel is a day (or as the route says) longer in the leg that takes as long as it takes. Many parcels that go
 * the same way can share the answer.
 *
 * Errors: legs that take longer than a trip.
 *
 * @example tripsOf({ days: [{ dispatchOn: '2026-11-25', arrivesOn: '2026-11-26' }], ways: ['delivered'], route })
 */
export function tripsOf(question: {
  days: readonly TripDay[];
  ways: readonly Way[];
  route?: Route | undefined;
}): Trip[] {
  const { days, ways, route } = question;
  const weather: Weather = new Map(route?.places.map((place) => [place.name, hoursByDay(place)]));
  return days.flatMap((trip) =>
    ways.flatMap((way): Trip[] => {
      const air = givenAir(trip, way) ?? (route ? airOfTrip(route, weather, trip, way) : null);
      return air ? [{ dispatchOn: trip.dispatchOn, arrivesOn: trip.arrivesOn, way, air }] : [];
    }),
  );
}
