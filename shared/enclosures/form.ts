import { z } from 'zod';
import { typedNumber } from '../settings/typed-number.ts';
import { type FieldUnit, fieldUnitsOf, shownInField, storedFromField } from '../settings/typed-units.ts';
import type { UnitSystem } from '../settings/units.ts';
import { neededLine, optionalLines } from '../text.ts';
import type { StoredEnclosure } from './volume.ts';

export const shapes = ['box', 'cylinder', 'frustum'] as const;
export type Shape = (typeof shapes)[number];

export const shapeWords: Record<Shape, { label: string; help: string }> = {
  box: { label: 'Box', help: 'straight sides' },
  cylinder: { label: 'Round, straight', help: 'a jar or tube' },
  frustum: { label: 'Round, sloping', help: 'a cup or tub' },
};

export const lengthUnits = ['mm', 'cm', 'in'] as const satisfies readonly FieldUnit[];

/** The measures in the order they are asked for, and which shapes have them. */
export const measures = [
  { field: 'length', column: 'lengthMm', label: 'Length inside', shapes: ['box'] },
  { field: 'width', column: 'widthMm', label: 'Width inside', shapes: ['box'] },
  { field: 'diameter', column: 'diameterMm', label: 'Diameter inside', shapes: ['cylinder'] },
  { field: 'topDiameter', column: 'topDiameterMm', label: 'Diameter at the rim', shapes: ['frustum'] },
  {
    field: 'bottomDiameter',
    column: 'bottomDiameterMm',
    label: 'Diameter at the floor',
    shapes: ['frustum'],
  },
  { field: 'height', column: 'heightMm', label: 'Height inside', shapes },
  { field: 'substrateDepth', column: 'substrateDepthMm', label: 'Depth of the substrate', shapes },
] as const satisfies readonly { field: string; column: string; label: string; shapes: readonly Shape[] }[];

type MeasureColumn = (typeof measures)[number]['column'];
const noMeasures: Record<MeasureColumn, null> = {
  lengthMm: null,
  widthMm: null,
  diameterMm: null,
  topDiameterMm: null,
  bottomDiameterMm: null,
  heightMm: null,
  substrateDepthMm: null,
};

export type MeasureField = (typeof measures)[number]['field'];
export const unitField = (field: MeasureField) => `${field}Unit` as const;

/** Larger ones are a slip of the unit. */
const longestMm = 5000;

const measure = typedNumber({ above: 0, max: longestMm }).optional();
const unit = z.enum(lengthUnits, { error: 'Choose mm, cm or in.' }).optional();

export const enclosureForm = z.object({
  name: neededLine(80, 'Give it a name.'),
  shape: z.enum(shapes, { error: 'Choose a shape.' }),
  length: measure,
  lengthUnit: unit,
  width: measure,
  widthUnit: unit,
  diameter: measure,
  diameterUnit: unit,
  topDiameter: measure,
  topDiameterUnit: unit,
  bottomDiameter: measure,
  bottomDiameterUnit: unit,
  height: measure,
  heightUnit: unit,
  substrateDepth: measure,
  substrateDepthUnit: unit,
  ventilation: optionalLines(500),
});
export type EnclosureForm = z.output<typeof enclosureForm>;

export type EnclosureValues = StoredEnclosure & {
  name: string;
  substrateDepthMm: number;
  ventilation: string;
};

export const enclosureFieldWords: Record<string, string> = {
  name: 'Name',
  shape: 'Shape',
  ...Object.fromEntries(measures.map(({ field, label }) => [field, label])),
  ventilation: 'Ventilation',
};

/** What the fields show for a stored enclosure, or for a new one (whose fields are empty, with their units). */
export function enclosureFormValues(
  stored: EnclosureValues | null,
  units: UnitSystem,
): Record<string, string> {
  const { length: own } = fieldUnitsOf(units);
  const values: Record<string, string> = { shape: stored?.shape ?? 'box' };
  if (stored) Object.assign(values, { name: stored.name, ventilation: stored.ventilation });
  for (const { field, column } of measures) {
    const valueMm = stored?.[column] ?? null;
    values[unitField(field)] = own;
    if (valueMm !== null) values[field] = shownInField(valueMm, own);
  }
  return values;
}

export type ReadEnclosure =
  | { ok: true; values: EnclosureValues }
  | { ok: false; errors: Record<string, string> };

/**
 * The enclosure a form describes, in millimetres: only the measures its shape has. A field that still says what it
 * showed for `before` keeps its value.
 */
export function enclosureFromForm(
  form: EnclosureForm,
  units: UnitSystem,
  before: EnclosureValues | null,
): ReadEnclosure {
  const { length: own } = fieldUnitsOf(units);
  const errors: Record<string, string> = {};
  const lengths: Record<MeasureColumn, number | null> = { ...noMeasures };
  for (const { field, column, shapes: has } of measures) {
    if (!(has as readonly Shape[]).includes(form.shape)) continue;
    const typed = form[field];
    if (typed === undefined) {
      errors[field] = 'Fill this in.';
      continue;
    }
    const valueMm = storedFromField(typed, form[unitField(field)] ?? own, before?.[column] ?? null);
    if (valueMm > longestMm) errors[field] = 'Longer than five metres: check the unit.';
    lengths[column] = valueMm;
  }
  const { heightMm, substrateDepthMm } = lengths;
  if (heightMm !== null && substrateDepthMm !== null && substrateDepthMm > heightMm)
    errors.substrateDepth ??= 'Must not be deeper than the enclosure is high.';
  if (heightMm === null || substrateDepthMm === null || Object.keys(errors).length > 0)
    return { ok: false, errors };
  const { name, shape, ventilation } = form;
  return { ok: true, values: { name, shape, ventilation, ...lengths, heightMm, substrateDepthMm } };
}
