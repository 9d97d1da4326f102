import { shownNumber } from '../settings/typed-units.ts';
import { gramsToOunces, ouncesToGrams, type UnitSystem } from '../settings/units.ts';

/** The unit a mass is typed in. */
export const massUnitOf = (units: UnitSystem): 'g' | 'oz' => (units === 'us' ? 'oz' : 'g');

/**
 * Grams as a field shows them.
 *
 * @example shownMass(100, 'us') // '3.53'
 */
export const shownMass = (massG: number, units: UnitSystem): string =>
  units === 'us' ? shownNumber(gramsToOunces(massG), 2) : shownNumber(massG, 1);

/**
 * Grams of a typed mass; a field that still says what it showed for the value before keeps that value.
 *
 * @example storedMass(3.53, 'us', 100) // 100
 */
export function storedMass(typed: number, units: UnitSystem, before: number | null = null): number {
  if (before !== null && Number(shownMass(before, units)) === typed) return before;
  return units === 'us' ? ouncesToGrams(typed) : typed;
}
