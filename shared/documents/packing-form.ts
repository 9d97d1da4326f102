import { z } from 'zod';
import { typedNumber } from '../settings/typed-number.ts';
import { fieldUnitsOf, shownInField, shownNumber, storedFromField } from '../settings/typed-units.ts';
import type { UnitSystem } from '../settings/units.ts';
import { optionalLine, optionalLines } from '../text.ts';

export interface GroupPackingValues {
  cupId: number | null;
  animalsPerCup: number | null;
  ventilation: string;
  padding: string;
}
export interface SpeciesPackingValues extends GroupPackingValues {
  animalMassMg: number | null;
}
export interface HabitValues {
  cupId: number | null;
  roomForPackMm: number;
  customsHeading: string;
}

/** One of the cups, or the empty choice for whatever the next step up says. */
const cup = typedNumber({ min: 1, max: Number.MAX_SAFE_INTEGER, whole: true }).optional();

const fields = {
  cup,
  perCup: typedNumber({ min: 1, max: 100_000, whole: true }).optional(),
  ventilation: optionalLines(300),
  padding: optionalLines(300),
};

export const groupPackingForm = z.object(fields);
export const speciesPackingForm = z.object({
  ...fields,
  animalMass: typedNumber({ above: 0, max: 500_000 }).optional(),
});
export const habitsForm = z.object({
  cup,
  room: typedNumber({ min: 0, max: 500 }),
  heading: optionalLine(40),
});

export const packingFieldWords: Record<string, string> = {
  cup: 'Cup',
  perCup: 'Animals in a cup at most',
  ventilation: 'Air',
  padding: 'Padding',
  animalMass: 'One animal weighs',
  room: 'Room over the cups for a pack and its air',
  heading: 'Heading of the Harmonized System',
};

const shown = (value: number | null | undefined) =>
  value === null || value === undefined ? '' : String(value);

export const packingFormValues = (
  stored: Partial<SpeciesPackingValues> | undefined,
): Record<string, string> => ({
  cup: shown(stored?.cupId),
  perCup: shown(stored?.animalsPerCup),
  ventilation: stored?.ventilation ?? '',
  padding: stored?.padding ?? '',
  animalMass:
    stored?.animalMassMg === null || stored?.animalMassMg === undefined
      ? ''
      : shownNumber(stored.animalMassMg, 2),
});

export const groupPackingFromForm = (form: z.output<typeof groupPackingForm>): GroupPackingValues => ({
  cupId: form.cup ?? null,
  animalsPerCup: form.perCup ?? null,
  ventilation: form.ventilation,
  padding: form.padding,
});

export const speciesPackingFromForm = (form: z.output<typeof speciesPackingForm>): SpeciesPackingValues => ({
  ...groupPackingFromForm(form),
  animalMassMg: form.animalMass ?? null,
});

export const habitsFormValues = (stored: HabitValues, units: UnitSystem): Record<string, string> => ({
  cup: shown(stored.cupId),
  room: shownInField(stored.roomForPackMm, fieldUnitsOf(units).length),
  heading: stored.customsHeading,
});

export const habitsFromForm = (
  form: z.output<typeof habitsForm>,
  units: UnitSystem,
  before: HabitValues,
): HabitValues => ({
  cupId: form.cup ?? null,
  roomForPackMm: storedFromField(form.room, fieldUnitsOf(units).length, before.roomForPackMm),
  customsHeading: form.heading,
});
