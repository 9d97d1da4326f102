import type { LaidSheet } from '../../shared/labels/sheet.ts';
import { LEAST_MODULE_MM } from '../documents/label.ts';

const tenths = (value: number) => String(Math.round(value * 10) / 10);

/** `3 across, 8 down, 63.3 by 34.6 mm`. */
export const saySheet = (sheet: Pick<LaidSheet, 'columns' | 'rows' | 'labelWidthMm' | 'labelHeightMm'>) =>
  `${sheet.columns} across, ${sheet.rows} down, each ${tenths(sheet.labelWidthMm)} by ${tenths(sheet.labelHeightMm)} mm`;

/** How large the squares of a code are, and whether a phone reads them. */
export const sayModule = (moduleMm: number) =>
  `Squares of the QR code: ${(Math.floor(moduleMm * 100) / 100).toFixed(2)} mm (at least ${LEAST_MODULE_MM} mm for phones: common practice; the white margin of four squares is that of ISO/IEC 18004).`;
