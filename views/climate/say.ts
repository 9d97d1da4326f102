import type { Vapour } from '../../shared/climate/vapour.ts';
import type { UnitSystem } from '../../shared/settings/units.ts';
import { formatNumber, formatPercent } from '../layout/format.ts';

/** A figure a room shows: tenths, so that a change is seen. */
export function exactTemp(tempC: number, units: UnitSystem, locale?: string): string {
  return units === 'us'
    ? `${formatNumber(tempC * 1.8 + 32, locale, 1)}\u00a0°F`
    : `${formatNumber(tempC, locale, 1)}\u00a0°C`;
}

type MoistAir = { tempC: number; humidityPct: number; air: Vapour };

/** How dry the air is, step by step: "Cellar: at 20 °C air holds 2.338 kPa at most; × (1 − 0.6) = 0.94 kPa." */
export function sayAir(
  where: string,
  { tempC, humidityPct, air }: MoistAir,
  said: { units: UnitSystem; locale?: string },
) {
  const { units, locale } = said;
  const number = (value: number, digits: number) => formatNumber(value, locale, digits);
  return `${where}: at ${exactTemp(tempC, units, locale)} air holds ${number(air.saturationKpa, 3)} kPa at most; ${number(air.saturationKpa, 3)} × (1 − ${formatPercent(humidityPct / 100, locale, 1)} humidity) = ${number(air.vpdKpa, 2)} kPa.`;
}
