import { addDays, type Day } from '../../shared/days.ts';
import type { ChoicePlace, ParcelChoice } from '../../shared/parcels/choice.ts';
import { dispatchDaysWith, yearsOf } from '../../shared/parcels/dispatch-days.ts';
import type { HabitValues } from '../../shared/parcels/habits-form.ts';
import type {
  DayOrder,
  DayRoute,
  PackingDayQuestion,
  Picked,
} from '../../shared/parcels/packing-day-form.ts';
import { type ContentsOfParcel, contentsOfParcel } from '../../shared/parcels/parcel-contents.ts';
import { timeInZone } from '../../shared/parcels/time-in-zone.ts';
import { dispatchQuestion, routeOf, waysOf } from '../../shared/parcels/way-of-parcel.ts';
import { areaOf } from '../../shared/parcels/weather-area.ts';
import { dayInZone } from '../../shared/zone-day.ts';
import { howPacked } from '../documents/queries-packing.ts';
import type { StaffCall } from '../plumbing/call.ts';
import type { Db } from '../plumbing/open-database.ts';
import { holidaysOf } from './holidays-kept.ts';
import { type Carrier, listAreas, listCarriers, readParcelHabits } from './queries-carriers.ts';
import { choicesOf, promisedStock } from './queries-choices.ts';
import { type ParcelOrder, type SpeciesInParcel, speciesInParcels } from './queries-day.ts';
import { parcelStock } from './queries-stock.ts';
import {
  listWeatherPlaces,
  newestWeather,
  placeWeatherOf,
  type WeatherDay,
  type WeatherPlace,
} from './queries-weather.ts';

/** So many days are looked at, today among them. */
const DAYS_AHEAD = 10;

/** Why nothing can be worked out for an order: what to do about it. */
export type Missing = 'origin' | 'carrier' | 'place' | 'weather' | 'boxes' | 'lines' | { holidays: string };

/** An order with all that is known of its way; `missing` says what is not. */
export interface OrderOnItsWay {
  order: ParcelOrder;
  lines: SpeciesInParcel[];
  contents: ContentsOfParcel;
  carrier: Carrier | null;
  destination: WeatherPlace | null;
  /** Where its place of weather comes from. */
  placeBy: 'hand' | 'area' | null;
  missing: Missing | null;
  places: ChoicePlace[];
  routeKey: string;
  /** What stands decided. */
  choice: ParcelChoice | null;
}

export interface DayToPack {
  question: PackingDayQuestion;
  orders: OrderOnItsWay[];
  habits: HabitValues;
  origin: WeatherPlace | null;
}

type Situation = Pick<StaffCall, 'db' | 'business' | 'today'> & { now: number };
type Stand = {
  habits: HabitValues;
  places: Map<number, WeatherPlace>;
  weather: Map<number, WeatherDay[]>;
  origin: WeatherPlace | null;
  carriers: Map<number, Carrier>;
};

function standOf({ db, today }: Situation): Stand {
  const habits = readParcelHabits(db);
  const open = listWeatherPlaces(db).filter(({ retiredAt }) => retiredAt === null);
  const places = new Map(open.map((place) => [place.id, place]));
  const ofOrigin = open.filter(({ part }) => part === 'origin');
  return {
    habits,
    places,
    weather: newestWeather(db, [...places.keys()], today),
    origin: places.get(habits.originPlaceId ?? -1) ?? (ofOrigin.length === 1 ? ofOrigin[0]! : null),
    carriers: new Map(
      listCarriers(db)
        .filter(({ retiredAt }) => retiredAt === null)
        .map((carrier) => [carrier.id, carrier]),
    ),
  };
}

function carrierOf({ carriers, habits }: Stand, order: ParcelOrder): Carrier | null {
  const named = carriers.get(order.carrierId ?? habits.carrierId ?? -1);
  return named ?? (carriers.size === 1 ? [...carriers.values()][0]! : null);
}

/** Where a place's weather comes from, and how old the oldest of it is. */
function sourceOf(stand: Stand, place: WeatherPlace, role: ChoicePlace['role']): ChoicePlace {
  const days = (stand.weather.get(place.id) ?? []).slice(0, DAYS_AHEAD);
  const sources = [...new Set(days.map(({ source }) => source))];
  const readAt = days.length === 0 ? null : Math.min(...days.map(({ forecastAt }) => forecastAt));
  return { role, name: place.name, source: sources.join(', '), readAt };
}

type HowPacked = ReturnType<typeof howPacked>;

/** The cups of a parcel, by what is known of how its species are packed. */
function contentsOf(
  lines: readonly SpeciesInParcel[],
  habits: HabitValues,
  how: (one: SpeciesInParcel) => HowPacked,
) {
  const cups = lines.map((line) => {
    const { cup, animalsPerCup } = how(line);
    const animals = line.groupAdults + line.groupJuveniles + line.groupExtras;
    const each = animalsPerCup === null ? 1 : Math.max(1, Math.ceil(animals / animalsPerCup));
    const eachL = cup && (cup.lengthMm * cup.widthMm * cup.heightMm) / 1e6;
    return { count: line.groups * each, eachG: null, eachL };
  });
  return contentsOfParcel(cups, habits);
}

function onItsWay(stand: Stand, order: ParcelOrder, areas: ReturnType<typeof listAreas>) {
  const byHand = stand.places.get(order.placeId ?? -1) ?? null;
  const area = byHand
    ? null
    : areaOf(
        areas.filter(({ placeId }) => stand.places.has(placeId)),
        order,
      );
  const destination = byHand ?? (area && (stand.places.get(area.placeId) ?? null));
  const placeBy: OrderOnItsWay['placeBy'] = byHand ? 'hand' : destination ? 'area' : null;
  const carrier = carrierOf(stand, order);
  const hub = stand.places.get(carrier?.hubPlaceId ?? -1) ?? null;
  const places = [
    stand.origin && sourceOf(stand, stand.origin, 'origin'),
    hub && sourceOf(stand, hub, 'hub'),
    destination && sourceOf(stand, destination, 'destination'),
  ].filter((one) => one !== null);
  return { carrier, hub, destination, placeBy, places, routeKey: `${carrier?.id} ${destination?.id}` };
}

function missingOf(
  stand: Stand,
  {
    carrier,
    destination,
    places,
    lines,
  }: Pick<OrderOnItsWay, 'carrier' | 'destination' | 'places' | 'lines'>,
  boxes: number,
): Missing | null {
  if (lines.length === 0) return 'lines';
  if (boxes === 0) return 'boxes';
  if (!stand.origin) return 'origin';
  if (!carrier) return 'carrier';
  if (!destination) return 'place';
  return places.some(({ readAt }) => readAt === null) ? 'weather' : null;
}

/** The days a carrier starts on; today is over once its hour has passed. */
async function daysOf(carrier: Carrier, { today, now, business }: Situation) {
  const asked = dispatchQuestion(carrier, today, DAYS_AHEAD);
  const holidays = await holidaysOf(carrier, yearsOf(asked));
  if ('unknown' in holidays) return holidays.unknown;
  const { dates, closed } = dispatchDaysWith(asked, holidays);
  if (carrier.cutOff === null || timeInZone(now, business.timeZone) <= carrier.cutOff)
    return { dates, closed };
  const isToday = ({ dispatchOn }: { dispatchOn: Day }) => dispatchOn === today;
  if (!dates.some(isToday)) return { dates, closed };
  return {
    dates: dates.filter((one) => !isToday(one)),
    closed: [{ date: today, why: `parcels were taken until ${carrier.cutOff}` }, ...closed],
  };
}

async function routeFor(
  stand: Stand,
  situation: Situation,
  one: {
    carrier: Carrier;
    hub: WeatherPlace | null;
    destination: WeatherPlace;
    places: ChoicePlace[];
    routeKey: string;
  },
): Promise<DayRoute | string> {
  const { carrier, hub, destination, places, routeKey } = one;
  const days = await daysOf(carrier, situation);
  if (typeof days === 'string') return days;
  const weather = (place: WeatherPlace) => placeWeatherOf(place, stand.weather.get(place.id) ?? []);
  const oldest = Math.min(situation.now, ...places.map(({ readAt }) => readAt ?? situation.now));
  const ends = {
    origin: weather(stand.origin!),
    hub: hub && weather(hub),
    destination: weather(destination),
  };
  return {
    key: routeKey,
    route: routeOf(carrier, ends, stand.habits, dayInZone(oldest, situation.business.timeZone)),
    days: days.dates,
    closed: days.closed,
    ways: waysOf(carrier),
    heldPrice: carrier.holdPriceMinor,
  };
}

/** The day an order may leave at the earliest: what it was written down for, or held until, but not in the past. */
function earliestOf({ dispatchOn, notBefore }: ParcelOrder, today: Day): Day {
  return [today, dispatchOn ?? today, notBefore ?? today].reduce((a, b) => (a > b ? a : b));
}

function packedByOf(db: Db): (one: SpeciesInParcel) => HowPacked {
  const known = new Map<number, HowPacked>();
  return ({ speciesId, animalGroup }) => {
    const before = known.get(speciesId);
    if (before) return before;
    const how = howPacked(db, speciesId, animalGroup);
    known.set(speciesId, how);
    return how;
  };
}

/**
 * All that is known about some orders' ways in the days ahead, as a question for the calculation. Boxes and packs that
 * are promised to other orders are not there; with `alone`, the one order's own are.
 */
export async function dayToPack(
  call: StaffCall,
  parcels: readonly ParcelOrder[],
  alone = false,
): Promise<DayToPack> {
  const situation: Situation = { ...call, now: call.clock.now() };
  const { db, today, business } = situation;
  const stand = standOf(situation);
  const ids = parcels.map(({ id }) => id);
  const stock = parcelStock(db, promisedStock(db, alone ? (ids[0] ?? null) : null));
  const choices = choicesOf(db, ids);
  const areas = listAreas(db);
  const how = packedByOf(db);
  const all = speciesInParcels(db, ids);
  const routes = new Map<string, DayRoute | string>();
  const orders: OrderOnItsWay[] = [];
  for (const order of parcels) {
    const lines = all.filter(({ orderId }) => orderId === order.id);
    const way = onItsWay(stand, order, areas);
    let missing = missingOf(stand, { ...way, lines }, stock.boxes.length);
    const { carrier, destination } = way;
    if (missing === null && carrier && destination) {
      if (!routes.has(way.routeKey))
        routes.set(way.routeKey, await routeFor(stand, situation, { ...way, carrier, destination }));
      const route = routes.get(way.routeKey);
      if (typeof route === 'string') missing = { holidays: route };
    }
    const choice = choices.get(order.id) ?? null;
    orders.push({ order, lines, contents: contentsOf(lines, stand.habits, how), ...way, missing, choice });
  }
  const question: PackingDayQuestion = {
    from: today,
    days: DAYS_AHEAD,
    ...stock,
    startTempC: stand.habits.startC,
    routes: [...routes.values()].filter((route) => typeof route !== 'string'),
    orders: orders.filter(({ missing }) => missing === null).map((one) => dayOrderOf(one, today)),
    units: business.units,
    locale: business.locale,
  };
  return { question, orders, habits: stand.habits, origin: stand.origin };
}

export function dayOrderOf(
  { order, lines, contents, routeKey, choice }: OrderOnItsWay,
  today: Day,
): DayOrder {
  const { massKg, heatCapacityJPerKgK, volumeL } = contents;
  const species = new Map(
    lines.map(({ scientificName: name, lethalLowC, safeLowC, safeHighC, lethalHighC }) => [
      name,
      { name, lethalLowC, safeLowC, safeHighC, lethalHighC },
    ]),
  );
  return {
    id: order.id,
    routeKey,
    earliest: earliestOf(order, today),
    species: [...species.values()],
    contents: { massKg, heatCapacityJPerKgK, volumeL },
    chosen: choice ? pickedOf(choice) : undefined,
  };
}

export const pickedOf = ({ box, pack, packs, dispatchOn, isHeld }: ParcelChoice): Picked => ({
  box: box.name,
  pack: pack?.name ?? null,
  packs,
  dispatchOn,
  way: isHeld ? 'held' : 'delivered',
});

/** The last of the days that are looked at. */
export const lastDay = (today: Day): Day => addDays(today, DAYS_AHEAD - 1);
