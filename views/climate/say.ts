import type { UnitSystem } from '../../shared/settings/units.ts';
import { formatNumber } from '../layout/format.ts';

/** A figure a room shows: tenths, so that a change is seen. */
export function exactTemp(tempC: number, units: UnitSystem, locale?: string): string {
  return units === 'us'
    ? `${formatNumber(tempC * 1.8 + 32, locale, 1)}\u00a0°F`
    : `${formatNumber(tempC, locale, 1)}\u00a0°C`;
}
