import { z } from 'zod';
import { typedNumber } from '../settings/typed-number.ts';
import { fieldUnitsOf, shownInField, shownNumber, storedFromField } from '../settings/typed-units.ts';
import type { UnitSystem } from '../settings/units.ts';
import { shownMass, storedMass } from './typed-mass.ts';

/** How parcels are packed here, and what is taken for granted where nothing was weighed. */
export interface HabitValues {
  originPlaceId: number | null;
  carrierId: number | null;
  packedAt: string;
  startC: number;
  cupG: number;
  cupL: number;
  contentsJPerKgK: number;
  errorAtOnceC: number;
  errorPerDayC: number;
  staleHours: number;
}

/** Until the owner says otherwise; common practice, no source. Heat capacity: moist soil, between soil and water. */
export const usualHabits: HabitValues = {
  originPlaceId: null,
  carrierId: null,
  packedAt: '14:00',
  startC: 20,
  cupG: 60,
  cupL: 0.3,
  contentsJPerKgK: 2_500,
  errorAtOnceC: 1.5,
  errorPerDayC: 0.4,
  staleHours: 24,
};

const choice = typedNumber({ min: 1, max: Number.MAX_SAFE_INTEGER, whole: true }).optional();
/** A time of day, as browsers send it and as people type it. */
export const typedTime = z
  .string({ error: 'Write a time, such as 14:30.' })
  .trim()
  .regex(/^([01]?\d|2[0-3]):[0-5]\d$/, 'Write a time, such as 14:30.')
  .transform((time) => time.padStart(5, '0'));

export const habitsForm = z.object({
  origin: choice,
  carrier: choice,
  packedAt: typedTime,
  start: typedNumber({ min: -20, max: 130 }),
  cupMass: typedNumber({ above: 0, max: 20_000 }),
  cupVolume: typedNumber({ above: 0, max: 50 }),
  heatCapacity: typedNumber({ min: 0.1, max: 10 }),
  errorAtOnce: typedNumber({ min: 0, max: 27 }),
  errorPerDay: typedNumber({ min: 0, max: 9 }),
  stale: typedNumber({ min: 1, max: 240, whole: true }),
});

export const habitWords: Record<string, string> = {
  origin: 'Where parcels start',
  carrier: 'Usual carrier',
  packedAt: 'Boxes are closed at',
  start: 'How warm the contents are then',
  cupMass: 'A cup with its filling weighs',
  cupVolume: 'A cup takes up',
  heatCapacity: 'Heat capacity of what is in a parcel',
  errorAtOnce: 'A forecast is off by',
  errorPerDay: 'and by so much more each day ahead',
  stale: 'A forecast is old after',
};

const shownDegrees = (degreesC: number, units: UnitSystem) =>
  shownNumber(units === 'us' ? degreesC * 1.8 : degreesC, 2);
const storedDegrees = (typed: number, units: UnitSystem, before: number) =>
  Number(shownDegrees(before, units)) === typed ? before : units === 'us' ? typed / 1.8 : typed;

const shownChoice = (id: number | null) => (id === null ? '' : String(id));

export function habitFormValues(stored: HabitValues, units: UnitSystem): Record<string, string> {
  return {
    origin: shownChoice(stored.originPlaceId),
    carrier: shownChoice(stored.carrierId),
    packedAt: stored.packedAt,
    start: shownInField(stored.startC, fieldUnitsOf(units).temp),
    cupMass: shownMass(stored.cupG, units),
    cupVolume: shownNumber(stored.cupL, 2),
    heatCapacity: shownNumber(stored.contentsJPerKgK / 1_000, 3),
    errorAtOnce: shownDegrees(stored.errorAtOnceC, units),
    errorPerDay: shownDegrees(stored.errorPerDayC, units),
    stale: String(stored.staleHours),
  };
}

export type ReadHabits = { ok: true; values: HabitValues } | { ok: false; errors: Record<string, string> };

export function habitsFromForm(
  form: z.output<typeof habitsForm>,
  units: UnitSystem,
  before: HabitValues,
): ReadHabits {
  const values: HabitValues = {
    originPlaceId: form.origin ?? null,
    carrierId: form.carrier ?? null,
    packedAt: form.packedAt,
    startC: storedFromField(form.start, fieldUnitsOf(units).temp, before.startC),
    cupG: storedMass(form.cupMass, units, before.cupG),
    cupL: form.cupVolume,
    contentsJPerKgK: form.heatCapacity * 1_000,
    errorAtOnceC: storedDegrees(form.errorAtOnce, units, before.errorAtOnceC),
    errorPerDayC: storedDegrees(form.errorPerDay, units, before.errorPerDayC),
    staleHours: form.stale,
  };
  const errors: Record<string, string> = {};
  if (!(values.startC >= -10 && values.startC <= 50)) errors.start = 'Nothing alive is packed at that.';
  if (values.errorAtOnceC > 15) errors.errorAtOnce = 'So bad a forecast says nothing.';
  if (values.errorPerDayC > 5) errors.errorPerDay = 'So bad a forecast says nothing.';
  return Object.keys(errors).length > 0 ? { ok: false, errors } : { ok: true, values };
}
