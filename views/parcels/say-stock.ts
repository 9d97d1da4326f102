import { formatLength, formatMass, formatTemp, type UnitSystem } from '../../shared/settings/units.ts';
import { formatMoney, formatNumber } from '../layout/format.ts';

/** A conductance as pages write it: '0.24 W/K'. */
export const wattsPerKelvin = (value: number, locale?: string): string =>
  `${formatNumber(value, locale, digitsOf(value))}\u00a0W/K`;

const digitsOf = (value: number) => (value < 0.1 ? 4 : value < 1 ? 3 : 2);

/** With its doubt: 'about 0.24 W/K (0.23 to 0.26)'. */
export const doubtful = (value: number, lower: number, upper: number, locale?: string): string => {
  const [low, high] = [lower, upper].map((one) => formatNumber(one, locale, digitsOf(value)));
  return `about ${wattsPerKelvin(value, locale)} (${low} to ${high})`;
};

export const leftWords = (left: number | null): string => (left === null ? 'not counted' : String(left));

type Inside = { lengthMm: number; widthMm: number; heightMm: number };

export function insideWords(
  { lengthMm, widthMm, heightMm }: Inside,
  units: UnitSystem,
  locale?: string,
): string {
  return [lengthMm, widthMm, heightMm].map((mm) => formatLength(mm, units, locale)).join(' × ');
}

type PackFigures = {
  kind: 'heat' | 'melting';
  massG: number;
  watts: number | null;
  hours: number | null;
  meltingC: number | null;
};

/** What a pack does, in a line. */
export function packWords(pack: PackFigures, units: UnitSystem, locale?: string): string {
  if (pack.kind === 'heat')
    return `${formatNumber(pack.watts ?? 0, locale, 1)}\u00a0W for ${formatNumber(pack.hours ?? 0, locale)}\u00a0h`;
  return `${formatMass(pack.massG, units, locale)}, melts at ${formatTemp(pack.meltingC ?? 0, units, locale)}`;
}

export const priceWords = (minor: number, currency: string, locale?: string): string =>
  minor === 0 ? 'not set' : formatMoney(minor, currency, locale);
