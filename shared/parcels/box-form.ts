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
import { neededLine, optionalLines } from '../text.ts';
import { conductivities } from './handbook.ts';
import { shownMass, storedMass } from './typed-mass.ts';

/** A box as it is stored: millimetres, grams, minor units. */
export interface BoxValues {
  name: string;
  lengthMm: number;
  widthMm: number;
  heightMm: number;
  wallMm: number;
  conductivityWPerMK: number;
  conductivitySource: string;
  conductanceWPerK: number | null;
  conductanceLogId: number | null;
  emptyMassG: number;
  priceMinor: number;
  numberLeft: number | null;
  note: string;
}

export const materials = Object.keys(conductivities) as (keyof typeof conductivities)[];
export const OWN_FIGURE = 'own figure';
const longestMm = 3_000;
const length = typedNumber({ above: 0, max: longestMm });

/** How many are left; left out, they are not counted. */
export const numberLeftField = typedNumber({ min: 0, max: 1_000_000, whole: true }).optional();

export function boxForm(currency: string) {
  return z.object({
    name: neededLine(80, 'Give it a name.'),
    length,
    width: length,
    height: length,
    wall: length,
    material: z.enum([...materials, OWN_FIGURE], { error: 'Choose what the wall is made of.' }),
    conductivity: typedNumber({ above: 0, max: 5 }).optional(),
    conductance: typedNumber({ above: 0, max: 100 }).optional(),
    emptyMass: typedNumber({ min: 0, max: 50_000 }).prefault('0'),
    price: moneyField(currency).prefault('0'),
    left: numberLeftField,
    note: optionalLines(500),
  });
}
export type BoxForm = z.output<ReturnType<typeof boxForm>>;

export const boxFieldWords: Record<string, string> = {
  name: 'Name',
  length: 'Length inside',
  width: 'Width inside',
  height: 'Height inside',
  wall: 'Thickness of the wall',
  material: 'Wall made of',
  conductivity: 'Conductivity of the wall',
  conductance: 'Measured conductance',
  emptyMass: 'Empty weight',
  price: 'Price',
  left: 'Number left',
  note: 'Notes',
};

const lengths = [
  ['length', 'lengthMm'],
  ['width', 'widthMm'],
  ['height', 'heightMm'],
  ['wall', 'wallMm'],
] as const;

const shownConductance = (value: number) => String(Number(value.toPrecision(3)));

function materialOf({ conductivityWPerMK, conductivitySource }: BoxValues): string {
  const found = materials.find(
    (one) => conductivities[one].value === conductivityWPerMK && conductivitySource === sourceOf(one),
  );
  return found ?? OWN_FIGURE;
}

export const sourceOf = (material: (typeof materials)[number]): string =>
  `${material}: ${conductivities[material].source}`;

/** What the fields show for a stored box, or for a new one. */
export function boxFormValues(
  stored: BoxValues | null,
  units: UnitSystem,
  currency: string,
): Record<string, string> {
  if (!stored) return { material: materials[0] ?? OWN_FIGURE };
  const unit = fieldUnitsOf(units).length;
  const material = materialOf(stored);
  return {
    name: stored.name,
    ...Object.fromEntries(lengths.map(([field, column]) => [field, shownInField(stored[column], unit)])),
    material,
    conductivity: material === OWN_FIGURE ? shownNumber(stored.conductivityWPerMK, 4) : '',
    conductance: stored.conductanceWPerK === null ? '' : shownConductance(stored.conductanceWPerK),
    emptyMass: shownMass(stored.emptyMassG, units),
    price: writeMoney(stored.priceMinor, minorDigits(currency)),
    left: stored.numberLeft === null ? '' : String(stored.numberLeft),
    note: stored.note,
  };
}

export type ReadBox = { ok: true; values: BoxValues } | { ok: false; errors: Record<string, string> };

/** The box a form describes. What still says what it showed keeps its stored value, and the log it came from. */
export function boxFromForm(form: BoxForm, units: UnitSystem, before: BoxValues | null): ReadBox {
  const unit = fieldUnitsOf(units).length;
  const errors: Record<string, string> = {};
  const measures = { lengthMm: 0, widthMm: 0, heightMm: 0, wallMm: 0 };
  for (const [field, column] of lengths) {
    measures[column] = storedFromField(form[field], unit, before?.[column] ?? null);
    if (measures[column] > longestMm) errors[field] = 'Longer than three metres: check the unit.';
  }
  const inner = Math.min(measures.lengthMm, measures.widthMm, measures.heightMm);
  if (measures.wallMm > 200) errors.wall ??= 'Thicker than 20 cm: check the unit.';
  else if (measures.wallMm > 2 * inner)
    errors.wall ??= 'Thicker than the box is wide inside: check the measures.';
  if (form.material === OWN_FIGURE && form.conductivity === undefined)
    errors.conductivity = 'Write the figure, or choose what the wall is made of.';
  if (Object.keys(errors).length > 0) return { ok: false, errors };
  const isOwn = form.material === OWN_FIGURE;
  const keeps =
    form.conductance !== undefined &&
    typeof before?.conductanceWPerK === 'number' &&
    shownConductance(before.conductanceWPerK) === shownConductance(form.conductance);
  return {
    ok: true,
    values: {
      name: form.name,
      ...measures,
      conductivityWPerMK: isOwn
        ? storedFigure(form.conductivity ?? 0, before?.conductivityWPerMK, 4)
        : conductivities[form.material as 'vacuum panel'].value,
      conductivitySource: isOwn ? 'your own figure' : sourceOf(form.material as 'vacuum panel'),
      conductanceWPerK: keeps ? before.conductanceWPerK : (form.conductance ?? null),
      conductanceLogId: keeps ? before.conductanceLogId : null,
      emptyMassG: storedMass(form.emptyMass, units, before?.emptyMassG ?? null),
      priceMinor: form.price,
      numberLeft: form.left ?? null,
      note: form.note,
    },
  };
}
