import { formatTemp, type UnitSystem } from '../../shared/settings/units.ts';
import { formatPercent } from '../layout/format.ts';

/** A limit of whole and half degrees. */
/** How far apart temperatures are: 4 °C is 7.2 °F. */
export const apart = (kelvin: number, units: UnitSystem): string =>
  units === 'us' ? `${Math.round(kelvin * 18) / 10} °F` : `${kelvin} °C`;

export const exactLimit = (tempC: number, units: UnitSystem, locale?: string): string =>
  units === 'us'
    ? formatTemp(tempC, units, locale ?? 'en-GB')
    : `${new Intl.NumberFormat(locale ?? 'en-GB', { maximumFractionDigits: 1 }).format(tempC)} °C`;

/** A loss: small ones to a tenth, since limits are about a few in a hundred. */
export const percent = (share: number, locale?: string): string =>
  formatPercent(share, locale, share < 0.1 ? 1 : 0);
