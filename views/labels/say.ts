import type { LaidSheet } from '../../shared/labels/sheet.ts';
import { millimetresToInches, type UnitSystem } from '../../shared/settings/units.ts';
import { LEAST_MODULE_MM } from '../documents/label.ts';
import { formatNumber } from '../layout/format.ts';

/** The units and the way of writing numbers of whoever reads it. */
export type SaidIn = { units: UnitSystem; locale: string };

/** A measure of paper is finer than one of an enclosure: its figure, to so many places in millimetres and in inches. */
const figure = (lengthMm: number, { units, locale }: SaidIn, [mm, inches]: [number, number]) =>
  units === 'us'
    ? formatNumber(millimetresToInches(lengthMm), locale, inches)
    : formatNumber(lengthMm, locale, mm);

const unitOf = ({ units }: SaidIn) => (units === 'us' ? '\u00a0in' : '\u00a0mm');

/** A length of a sheet or a label, `63.3 mm` or `2.49 in`. */
export const sayLength = (lengthMm: number, said: SaidIn) =>
  `${figure(lengthMm, said, [1, 2])}${unitOf(said)}`;

type Cut = Pick<LaidSheet, 'columns' | 'rows' | 'labelWidthMm' | 'labelHeightMm'>;

/** `3 across, 8 down, each 63.3 by 34.6 mm`, or `each 2.49 by 1.36 in`. */
export function saySheet(sheet: Cut, said: SaidIn): string {
  const [width, height] = [sheet.labelWidthMm, sheet.labelHeightMm].map((side) => figure(side, said, [1, 2]));
  return `${sheet.columns} across, ${sheet.rows} down, each ${width} by ${height}${unitOf(said)}`;
}

/** How large the squares of a code are at least, so that phones read them. */
export const sayLeast = (said: SaidIn) => `${figure(LEAST_MODULE_MM, said, [2, 3])}${unitOf(said)}`;

/** How large the squares of a code are, rounded down. */
export const saySquares = (moduleMm: number, said: SaidIn) =>
  `${figure(Math.floor(moduleMm * 100) / 100, said, [2, 3])}${unitOf(said)}`;

export const sayModule = (moduleMm: number, said: SaidIn) =>
  `Squares of the QR code: ${saySquares(moduleMm, said)} (at least ${sayLeast(said)} for phones: common practice; the white margin of four squares is that of ISO/IEC 18004).`;
