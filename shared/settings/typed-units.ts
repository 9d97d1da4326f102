import {
  celsiusToFahrenheit,
  fahrenheitToCelsius,
  inchesToMillimetres,
  litresToQuarts,
  millimetresToInches,
  quartsToLitres,
  type UnitSystem,
} from './units.ts';

export type FieldUnit = '°C' | '°F' | 'mm' | 'cm' | 'in' | 'a litre' | 'a quart';

type Conversion = {
  fromStored: (stored: number) => number;
  toStored: (typed: number) => number;
  digits: number;
};

const same = (value: number) => value;

const conversions: Record<FieldUnit, Conversion> = {
  '°C': { fromStored: same, toStored: same, digits: 2 },
  '°F': { fromStored: celsiusToFahrenheit, toStored: fahrenheitToCelsius, digits: 1 },
  mm: { fromStored: same, toStored: same, digits: 1 },
  cm: { fromStored: (mm) => mm / 10, toStored: (cm) => cm * 10, digits: 2 },
  in: { fromStored: millimetresToInches, toStored: inchesToMillimetres, digits: 3 },
  'a litre': { fromStored: same, toStored: same, digits: 3 },
  // So many in every litre are fewer in every quart.
  'a quart': { fromStored: (n) => n * quartsToLitres(1), toStored: (n) => n * litresToQuarts(1), digits: 2 },
};

/** The unit a temperature, a length or a density is typed in. */
export function fieldUnitsOf(units: UnitSystem): { temp: FieldUnit; length: FieldUnit; density: FieldUnit } {
  return units === 'us'
    ? { temp: '°F', length: 'in', density: 'a quart' }
    : { temp: '°C', length: 'mm', density: 'a litre' };
}

/** A number as it stands in a field: a point, no thousands mark, no more figures than given. */
export function shownNumber(value: number, digits: number): string {
  return String(Math.round(value * 10 ** digits) / 10 ** digits + 0);
}

/**
 * A stored (metric) value as its field shows it.
 *
 * @example shownInField(26, '°F') // '78.8'
 */
export function shownInField(stored: number, unit: FieldUnit): string {
  const { fromStored, digits } = conversions[unit];
  return shownNumber(fromStored(stored), digits);
}

/**
 * What to store for a typed number. A field that still says what it showed for the value before keeps that value to
 * the last digit, so that opening and saving a form again and again moves nothing.
 *
 * @example storedFromField(78.8, '°F', 26) // 26, not 25.999...
 */
export function storedFromField(typed: number, unit: FieldUnit, before: number | null = null): number {
  if (before !== null && Number(shownInField(before, unit)) === typed) return before;
  return conversions[unit].toStored(typed);
}

/** The same for a value that is shown in a way of its own (a share as a percentage, say). */
export function keptUnlessChanged(
  typed: number,
  before: number | null,
  shown: (stored: number) => string,
  toStored: (typed: number) => number,
): number {
  return before !== null && Number(shown(before)) === typed ? before : toStored(typed);
}

/**
 * The same for a figure that has one unit everywhere (hours, watts), shown to so many digits.
 *
 * @example storedFigure(1.33, 4 / 3, 2) // 1.3333333333333333
 */
export const storedFigure = (typed: number, before: number | null | undefined, digits: number): number =>
  keptUnlessChanged(typed, before ?? null, (stored) => shownNumber(stored, digits), same);
