import type { Leaving } from '../../shared/climate/limits.ts';
import { formatTemp, type UnitSystem } from '../../shared/settings/units.ts';
import { formatCount, formatNumber } from '../layout/format.ts';

/** "above 29 °C, which Porcellio laevis bears (12 cultures)". */
export function leavingWords(leaving: Leaving, units: UnitSystem, locale?: string): string {
  const { scientificName, limitC, side, cultures, isDeadly } = leaving;
  const limit = formatTemp(limitC, units, locale, side === 'above' ? 'down' : 'up');
  const what = isDeadly ? `deadly for ${scientificName}` : `more than ${scientificName} bears safely`;
  const cold = isDeadly ? what : `colder than ${scientificName} bears safely`;
  return `${side} ${limit}, ${side === 'above' ? what : cold} (${formatCount(cultures, 'culture', 'cultures', locale)})`;
}

/** A figure a room shows: tenths, so that a change is seen. */
export function exactTemp(tempC: number, units: UnitSystem, locale?: string): string {
  return units === 'us'
    ? `${formatNumber(tempC * 1.8 + 32, locale, 1)}\u00a0°F`
    : `${formatNumber(tempC, locale, 1)}\u00a0°C`;
}
