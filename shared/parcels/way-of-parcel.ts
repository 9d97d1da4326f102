import type { Day } from '../days.ts';
import type { DispatchDaysQuestion } from './dispatch-days.ts';
import type { Leg, PlaceWeather, Route, Way } from './parcel-options-form.ts';

/** What a carrier's service does, as its owner keeps it. Weekdays as digits, 1 is Monday; times HH:MM. */
export interface CarrierRules {
  cutOff: string | null;
  collectsOn: string;
  deliversOn: string;
  transitDays: number;
  deliveredBy: string;
  lateHours: number;
  startHours: number;
  endHours: number;
  vanWarmerC: number;
  porchHours: number;
  mayHold: boolean;
  counterHours: number;
  counterC: number;
}

export interface PackingHabits {
  packedAt: string;
  startC: number;
  errorAtOnceC: number;
  errorPerDayC: number;
}

/** @example hourOf('14:30') // 14.5 */
export function hourOf(time: string): number {
  const [hours = 0, minutes = 0] = time.split(':').map(Number);
  return hours + minutes / 60;
}

const weekdaysOf = (digits: string): number[] => [...digits].map(Number);

/** The question of `dispatch-days` for a carrier: nothing ever lies idle on the way. */
export const dispatchQuestion = (
  carrier: CarrierRules,
  from: Day,
  days: number,
): Omit<DispatchDaysQuestion, 'holidays'> => ({
  from,
  days,
  transitDays: carrier.transitDays,
  carrierWeekdays: weekdaysOf(carrier.deliversOn),
  dispatchWeekdays: weekdaysOf(carrier.collectsOn),
  noIdleDayInTransit: true,
});

export const waysOf = ({ mayHold }: CarrierRules): Way[] => (mayHold ? ['delivered', 'held'] : ['delivered']);

type Places = { origin: PlaceWeather; hub: PlaceWeather | null; destination: PlaceWeather };

/**
 * The way of a parcel by a carrier: its first hours in the weather of the start, its last in the end's, what lies between
 * in the hub's, or the end's where none is named. Delivered, the last hours are in the van, then the parcel stands at the
 * door; held, it skips both and lies on the counter.
 *
 * @example routeOf(carrier, { origin, hub: null, destination }, habits, '2026-11-25').legs.length // 5
 */
export function routeOf(
  carrier: CarrierRules,
  places: Places,
  habits: PackingHabits,
  forecastOn: Day,
): Route {
  const { origin, hub, destination } = places;
  const plain = { way: null, afterArrival: false, warmerByC: 0 };
  const end = destination.name;
  const legs: Leg[] = [
    { ...plain, place: origin.name, hours: carrier.startHours },
    { ...plain, place: hub?.name ?? end },
    { ...plain, place: end, hours: carrier.endHours, way: 'delivered', warmerByC: carrier.vanWarmerC },
  ];
  if (carrier.porchHours > 0)
    legs.push({ ...plain, place: end, hours: carrier.porchHours, way: 'delivered', afterArrival: true });
  if (carrier.counterHours > 0)
    legs.push({
      ...plain,
      steadyC: carrier.counterC,
      hours: carrier.counterHours,
      way: 'held',
      afterArrival: true,
    });
  const all = hub ? [origin, hub, destination] : [origin, destination];
  return {
    places: all.filter((one, i) => all.findIndex(({ name }) => name === one.name) === i),
    legs,
    packedAtHour: hourOf(habits.packedAt),
    deliveredAtHour: hourOf(carrier.deliveredBy),
    lateHours: carrier.lateHours,
    forecastOn,
    errorC: { atOnce: habits.errorAtOnceC, perDay: habits.errorPerDayC },
  };
}

/** The hours a trip takes as planned, from packing until the animals are taken in. */
export function plannedHours(
  carrier: CarrierRules,
  habits: PackingHabits,
  daysOnTheWay: number,
  way: Way,
): number {
  const after = way === 'held' ? carrier.counterHours : carrier.porchHours;
  return 24 * daysOnTheWay + hourOf(carrier.deliveredBy) - hourOf(habits.packedAt) + after;
}
