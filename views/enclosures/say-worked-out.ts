import { type EnclosureMeasures, widthAtMm } from '../../shared/enclosures/volume.ts';
import { formatVolume, millimetresToInches, type UnitSystem } from '../../shared/settings/units.ts';
import { formatNumber } from '../layout/format.ts';

type Measured = {
  measures: EnclosureMeasures;
  substrateDepthMm: number;
  substrateLitres: number;
  totalLitres: number;
};
type Reader = { units: UnitSystem; locale?: string | undefined };

/** A length as the volumes take it: plain figures, so that whoever reads can multiply them. */
const lengthIn = (mm: number, { units, locale }: Reader) =>
  units === 'us' ? formatNumber(millimetresToInches(mm), locale, 2) : formatNumber(mm / 10, locale, 1);

/** "29 × 19 × 4", "π ÷ 4 × 11² × 4", "π ÷ 12 × 4 × (9² + 9 × 9.6 + 9.6²)": from the floor up to a depth. */
function sayProduct(measures: EnclosureMeasures, depthMm: number, reader: Reader): string {
  const length = (mm: number) => lengthIn(mm, reader);
  const depth = length(depthMm);
  if (measures.shape === 'box')
    return `${length(measures.lengthMm)} × ${length(measures.widthMm)} × ${depth}`;
  if (measures.shape === 'cylinder') return `π ÷ 4 × ${length(measures.diameterMm)}² × ${depth}`;
  const [low, high] = [widthAtMm(measures, 0), widthAtMm(measures, depthMm)].map(length);
  return `π ÷ 12 × ${depth} × (${low}² + ${low} × ${high} + ${high}²)`;
}

/** What an enclosure holds, and the substrate in it, reckoned from its inside measures. */
export function sayVolume(
  { measures, substrateDepthMm, substrateLitres, totalLitres }: Measured,
  reader: Reader,
): string {
  const { units, locale } = reader;
  const [cubic, share] =
    units === 'us' ? ['cubic inches ÷ 57.75 in a quart', 'in'] : ['cm³ ÷ 1,000 in a litre', 'cm'];
  const volume = (litres: number) => formatVolume(litres, units, locale);
  const whole = `${sayProduct(measures, measures.heightMm, reader)} ${cubic} = ${volume(totalLitres)} in all`;
  const part = `${lengthIn(substrateDepthMm, reader)}\u00a0${share} deep: ${sayProduct(measures, substrateDepthMm, reader)} = ${volume(substrateLitres)} of substrate`;
  return `${whole}; ${part}.`;
}

/** As many as anybody reads through. */
const mostListed = 30;

/** The same for every enclosure of a list, a line each. */
export const sayVolumes = (rows: readonly (Measured & { name: string })[], reader: Reader): string[] =>
  rows.slice(0, mostListed).map((row) => `${row.name}: ${sayVolume(row, reader)}`);
