import { z } from 'zod';
import { moneyField, writeMoney } from '../orders/money.ts';
import { minorDigits } from '../settings/typed-money.ts';
import { typedNumber } from '../settings/typed-number.ts';
import {
  fieldUnitsOf,
  shownInField,
  shownNumber,
  storedFigure,
  storedFromField,
} from '../settings/typed-units.ts';
import type { UnitSystem } from '../settings/units.ts';
import { neededLine, optionalLine, optionalLines } from '../text.ts';
import { typedTime } from './habits-form.ts';
import { type CarrierRules, hourOf } from './way-of-parcel.ts';

/** A carrier's service as it is stored. */
export interface CarrierValues extends CarrierRules {
  name: string;
  country: string;
  region: string | null;
  holdPriceMinor: number;
  hubPlaceId: number | null;
  note: string;
}

export const weekdayWords: Record<string, string> = {
  1: 'Monday',
  2: 'Tuesday',
  3: 'Wednesday',
  4: 'Thursday',
  5: 'Friday',
  6: 'Saturday',
  7: 'Sunday',
};

const weekdays = (missing: string) =>
  z
    .union([z.string(), z.array(z.string())], { error: missing })
    .transform((value) => [...new Set([value].flat())].filter((one) => /^[1-7]$/.test(one)).sort())
    .refine((days) => days.length > 0, missing)
    .transform((days) => days.join(''));

const hours = (min: number, max: number) => typedNumber({ min, max });
const yes = z.literal('yes').optional();

export const carrierForm = (currency: string) =>
  z.object({
    name: neededLine(80, 'Give it a name.'),
    cutOff: typedTime.optional(),
    collectsOn: weekdays('Choose at least one day.'),
    deliversOn: weekdays('Choose at least one day.'),
    country: z.string({ error: 'Choose a country.' }).regex(/^[A-Z]{2}$/, 'Choose a country.'),
    region: optionalLine(12),
    transitDays: typedNumber({ min: 0, max: 14, whole: true }),
    deliveredBy: typedTime,
    lateHours: hours(1, 96),
    startHours: typedNumber({ above: 0, max: 48 }),
    endHours: typedNumber({ above: 0, max: 48 }),
    vanWarmer: typedNumber({ min: -36, max: 72 }),
    porchHours: hours(0, 48),
    mayHold: yes,
    holdPrice: moneyField(currency).prefault('0'),
    counterHours: hours(0, 120).prefault('0'),
    counterTemp: typedNumber({ min: -20, max: 130 }).optional(),
    hub: typedNumber({ min: 1, max: Number.MAX_SAFE_INTEGER, whole: true }).optional(),
    note: optionalLines(500),
  });
export type CarrierForm = z.output<ReturnType<typeof carrierForm>>;

export const carrierWords: Record<string, string> = {
  name: 'Name',
  cutOff: 'Takes parcels until',
  collectsOn: 'Days you send on',
  deliversOn: 'Days it carries and delivers',
  country: 'Public holidays of',
  region: 'Region of those holidays',
  transitDays: 'Days on the way',
  deliveredBy: 'Delivered by',
  lateHours: 'Late means',
  startHours: 'In the weather where it starts',
  endHours: 'In the weather where it ends',
  vanWarmer: 'In the last van it is warmer by',
  porchHours: 'At the door until it is taken in',
  mayHold: 'Holds parcels for pickup',
  holdPrice: 'Holding costs',
  counterHours: 'On the counter until it is fetched',
  counterTemp: 'How warm the counter is',
  hub: 'Hub on the way',
  note: 'Notes',
};

const COUNTER_C = 20;

/** Of a new carrier. Common practice, no source: early in the week, so that nothing lies over a weekend. */
export const newCarrier: Omit<CarrierValues, 'name' | 'country'> = {
  cutOff: '16:00',
  collectsOn: '123',
  deliversOn: '12345',
  region: null,
  transitDays: 1,
  deliveredBy: '18:00',
  lateHours: 24,
  startHours: 6,
  endHours: 8,
  vanWarmerC: 2,
  porchHours: 2,
  mayHold: false,
  holdPriceMinor: 0,
  counterHours: 20,
  counterC: COUNTER_C,
  hubPlaceId: null,
  note: '',
};

const degrees = (degreesC: number, units: UnitSystem) =>
  shownNumber(units === 'us' ? degreesC * 1.8 : degreesC, 1);

export function carrierFormValues(
  stored: CarrierValues,
  units: UnitSystem,
  currency: string,
): Record<string, string | string[]> {
  return {
    name: stored.name,
    cutOff: stored.cutOff ?? '',
    collectsOn: [...stored.collectsOn],
    deliversOn: [...stored.deliversOn],
    country: stored.country,
    region: stored.region ?? '',
    transitDays: String(stored.transitDays),
    deliveredBy: stored.deliveredBy,
    lateHours: shownNumber(stored.lateHours, 1),
    startHours: shownNumber(stored.startHours, 1),
    endHours: shownNumber(stored.endHours, 1),
    vanWarmer: degrees(stored.vanWarmerC, units),
    porchHours: shownNumber(stored.porchHours, 1),
    mayHold: stored.mayHold ? 'yes' : '',
    holdPrice: writeMoney(stored.holdPriceMinor, minorDigits(currency)),
    counterHours: shownNumber(stored.counterHours, 1),
    counterTemp: shownInField(stored.counterC, fieldUnitsOf(units).temp),
    hub: stored.hubPlaceId === null ? '' : String(stored.hubPlaceId),
    note: stored.note,
  };
}

function faultsOf(values: CarrierValues, packedAt: string): Record<string, string> {
  const errors: Record<string, string> = {};
  if ([...values.collectsOn].some((day) => !values.deliversOn.includes(day)))
    errors.collectsOn = 'On one of these days it carries nothing: add the day below, or take it out here.';
  const onTheWay = 24 * values.transitDays + hourOf(values.deliveredBy) - hourOf(packedAt);
  if (values.startHours + values.endHours >= onTheWay)
    errors.endHours = `Start and end together are longer than the trip, ${shownNumber(Math.max(0, onTheWay), 1)} h from closing the box at ${packedAt}.`;
  if (!(values.vanWarmerC >= -20 && values.vanWarmerC <= 40)) errors.vanWarmer = 'Check the unit.';
  if (!(values.counterC >= -20 && values.counterC <= 50)) errors.counterTemp = 'Check the unit.';
  return errors;
}

export type ReadCarrier = { ok: true; values: CarrierValues } | { ok: false; errors: Record<string, string> };

export function carrierFromForm(
  form: CarrierForm,
  units: UnitSystem,
  before: CarrierValues | null,
  packedAt: string,
): ReadCarrier {
  const values: CarrierValues = {
    name: form.name,
    cutOff: form.cutOff ?? null,
    collectsOn: form.collectsOn,
    deliversOn: form.deliversOn,
    country: form.country,
    region: form.region === '' ? null : form.region,
    transitDays: form.transitDays,
    deliveredBy: form.deliveredBy,
    lateHours: storedFigure(form.lateHours, before?.lateHours, 1),
    startHours: storedFigure(form.startHours, before?.startHours, 1),
    endHours: storedFigure(form.endHours, before?.endHours, 1),
    vanWarmerC:
      before && degrees(before.vanWarmerC, units) === shownNumber(form.vanWarmer, 1)
        ? before.vanWarmerC
        : units === 'us'
          ? form.vanWarmer / 1.8
          : form.vanWarmer,
    porchHours: storedFigure(form.porchHours, before?.porchHours, 1),
    mayHold: form.mayHold === 'yes',
    holdPriceMinor: form.holdPrice,
    counterHours: storedFigure(form.counterHours, before?.counterHours, 1),
    counterC:
      form.counterTemp === undefined
        ? COUNTER_C
        : storedFromField(form.counterTemp, fieldUnitsOf(units).temp, before?.counterC ?? null),
    hubPlaceId: form.hub ?? null,
    note: form.note,
  };
  const errors = faultsOf(values, packedAt);
  return Object.keys(errors).length > 0 ? { ok: false, errors } : { ok: true, values };
}
