import { CalculationError } from '../faults.ts';
import type { ParcelLimits } from './parcel-form.ts';
import type { SpeciesLimits } from './parcel-options-form.ts';

/**
 * The limits of a parcel with several species: the tightest of each.
 *
 * Errors: species of which one must be warmer than another bears.
 *
 * @example tightestLimits([{ name: 'A', lethalLowC: 0, safeLowC: 8, safeHighC: 28, lethalHighC: 33 },
 *   { name: 'B', lethalLowC: 5, safeLowC: 12, safeHighC: 30, lethalHighC: 36 }]) // 5, 12, 28, 33
 */
export function tightestLimits(species: readonly SpeciesLimits[]): ParcelLimits {
  const of = (key: keyof ParcelLimits) => species.map((one) => one[key]);
  const limits = {
    lethalLowC: Math.max(...of('lethalLowC')),
    safeLowC: Math.max(...of('safeLowC')),
    safeHighC: Math.min(...of('safeHighC')),
    lethalHighC: Math.min(...of('lethalHighC')),
  };
  if (limits.safeHighC <= limits.safeLowC) {
    const warm = species.find(({ safeLowC }) => safeLowC === limits.safeLowC)?.name;
    const cool = species.find(({ safeHighC }) => safeHighC === limits.safeHighC)?.name;
    throw new CalculationError(
      `${warm} and ${cool} cannot share a parcel: no temperature is safe for both`,
      'species',
    );
  }
  return limits;
}
