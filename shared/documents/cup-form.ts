import { z } from 'zod';
import { shownMass, storedMass } from '../parcels/typed-mass.ts';
import { typedNumber } from '../settings/typed-number.ts';
import { fieldUnitsOf, shownInField, storedFromField } from '../settings/typed-units.ts';
import type { UnitSystem } from '../settings/units.ts';
import { neededLine, optionalLines } from '../text.ts';

/** A cup as it is stored: outside, lid on; the mass null where nobody weighed it. */
export interface CupValues {
  name: string;
  lengthMm: number;
  widthMm: number;
  heightMm: number;
  emptyMassG: number | null;
  note: string;
}

const longestMm = 500;
const length = typedNumber({ above: 0, max: longestMm });

export const cupForm = z.object({
  name: neededLine(80, 'Give it a name.'),
  length,
  width: length.optional(),
  height: length,
  emptyMass: typedNumber({ min: 0, max: 5_000 }).optional(),
  note: optionalLines(500),
});
export type CupForm = z.output<typeof cupForm>;

export const cupFieldWords: Record<string, string> = {
  name: 'Name',
  length: 'Across, or length',
  width: 'Width',
  height: 'Height with lid',
  emptyMass: 'Empty weight',
  note: 'Notes',
};

/** What the fields show for a stored cup, or for a new one. */
export function cupFormValues(stored: CupValues | null, units: UnitSystem): Record<string, string> {
  if (!stored) return {};
  const unit = fieldUnitsOf(units).length;
  return {
    name: stored.name,
    length: shownInField(stored.lengthMm, unit),
    width: stored.widthMm === stored.lengthMm ? '' : shownInField(stored.widthMm, unit),
    height: shownInField(stored.heightMm, unit),
    emptyMass: stored.emptyMassG === null ? '' : shownMass(stored.emptyMassG, units),
    note: stored.note,
  };
}

export type ReadCup = { ok: true; values: CupValues } | { ok: false; errors: Record<string, string> };

/** The cup a form describes; without a width it is round. */
export function cupFromForm(form: CupForm, units: UnitSystem, before: CupValues | null): ReadCup {
  const unit = fieldUnitsOf(units).length;
  const lengthMm = storedFromField(form.length, unit, before?.lengthMm ?? null);
  const widthMm =
    form.width === undefined ? lengthMm : storedFromField(form.width, unit, before?.widthMm ?? null);
  const heightMm = storedFromField(form.height, unit, before?.heightMm ?? null);
  const errors: Record<string, string> = {};
  for (const [field, measure] of [
    ['length', lengthMm],
    ['width', widthMm],
    ['height', heightMm],
  ] as const)
    if (measure > longestMm) errors[field] = 'Longer than half a metre: check the unit.';
  if (Object.keys(errors).length > 0) return { ok: false, errors };
  const emptyMassG =
    form.emptyMass === undefined ? null : storedMass(form.emptyMass, units, before?.emptyMassG ?? null);
  return { ok: true, values: { name: form.name, lengthMm, widthMm, heightMm, emptyMassG, note: form.note } };
}

/** Cups to begin with. Sizes and weights: common practice, no source; the owner measures their own. */
export const startingCups: readonly CupValues[] = [
  { name: 'Round cup, small', lengthMm: 75, widthMm: 75, heightMm: 45, emptyMassG: null, note: '' },
  { name: 'Round cup, medium', lengthMm: 100, widthMm: 100, heightMm: 60, emptyMassG: null, note: '' },
].map((cup) => ({
  ...cup,
  note: 'Starting figures (common practice, no source): put in your own measures.',
}));
