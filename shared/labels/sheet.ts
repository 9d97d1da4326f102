import { millimetresToInches, type UnitSystem } from '../settings/units.ts';

/** The measures of a sheet of labels, in millimetres; null stands for what follows from the others. */
export type SheetMeasures = {
  columns: number;
  rows: number;
  marginTopMm: number;
  marginLeftMm: number;
  /** Null: as the margin opposite. */
  marginRightMm: number | null;
  marginBottomMm: number | null;
  gapAcrossMm: number;
  gapDownMm: number;
  /** Null: what margins and gaps leave. A width that is given makes the right margin follow. */
  labelWidthMm: number | null;
  labelHeightMm: number | null;
};

export type LabelPaper = 'A4' | 'Letter';

/** Widths and heights in millimetres: ISO 216 (A4); ANSI/ASME Y14.1 size A (Letter), 8.5 by 11 inches. */
export const labelPapersMm: Record<LabelPaper, { widthMm: number; heightMm: number }> = {
  A4: { widthMm: 210, heightMm: 297 },
  Letter: { widthMm: 215.9, heightMm: 279.4 },
};

export type LaidSheet = {
  paper: LabelPaper;
  widthMm: number;
  heightMm: number;
  columns: number;
  rows: number;
  perSheet: number;
  labelWidthMm: number;
  labelHeightMm: number;
  marginTopMm: number;
  marginLeftMm: number;
  gapAcrossMm: number;
  gapDownMm: number;
};

export type SheetFaults = Partial<Record<'labelWidth' | 'labelHeight', string>>;

/** No label is useful below this; a code with its quiet zone alone is wider. */
const leastLabelMm = 8;
/** What measures may be over by, for sums of typed tenths. */
const slackMm = 0.05;

/** How lengths are said in faults: as the business measures its labels. */
export type SaidIn = { units: UnitSystem; locale: string };

function shown(mm: number, { units, locale }: SaidIn): string {
  const [value, unit, digits] = units === 'us' ? [millimetresToInches(mm), 'in', 2] : [mm, 'mm', 1];
  return `${new Intl.NumberFormat(locale, { maximumFractionDigits: digits }).format(value)}\u00a0${unit}`;
}

type Way = {
  count: number;
  before: number;
  after: number | null;
  gap: number;
  label: number | null;
  paperMm: number;
  paper: string;
  side: string;
  said: SaidIn;
};

/** One direction of the sheet: the length of a label, or what is wrong. */
function along({ count, before, after, gap, label, paperMm, paper, side, said }: Way): number | string {
  const gaps = (count - 1) * gap;
  const given = label !== null;
  const end = given ? (after ?? 0) : (after ?? before);
  const length = given ? label : (paperMm - before - end - gaps) / count;
  if (!given && length < leastLabelMm)
    return `Margins and gaps leave ${shown(Math.max(0, length), said)} for each label; it needs at least ${shown(leastLabelMm, said)}.`;
  const needs = before + count * length + gaps + (given ? end : 0);
  if (given && needs > paperMm + slackMm)
    return `${count} ${count === 1 ? 'label' : 'labels'} of ${shown(length, said)} with their margins and gaps need ${shown(needs, said)}; ${paper} is ${shown(paperMm, said)} ${side}.`;
  return length;
}

/**
 * Where the labels of a sheet stand, or which measures do not go together, by the field they are typed in.
 *
 * A width (or height) that is left out follows: what margins and gaps leave, shared evenly. Lengths in millimetres.
 *
 * @example layOutSheet({ columns: 3, rows: 8, marginTopMm: 10, marginLeftMm: 10, marginRightMm: null,
 *   marginBottomMm: null, gapAcrossMm: 5, gapDownMm: 0, labelWidthMm: null, labelHeightMm: null }, 'A4')
 * // labels of 60 by 34.6 mm: (210 - 20 - 10) / 3 and (297 - 20) / 8
 */
export function layOutSheet(
  m: SheetMeasures,
  paper: LabelPaper,
  said: SaidIn = { units: 'metric', locale: 'en-GB' },
): { ok: true; sheet: LaidSheet } | { ok: false; errors: SheetFaults } {
  const { widthMm, heightMm } = labelPapersMm[paper];
  const width = along({
    count: m.columns,
    before: m.marginLeftMm,
    after: m.marginRightMm,
    gap: m.gapAcrossMm,
    label: m.labelWidthMm,
    paperMm: widthMm,
    paper,
    side: 'wide',
    said,
  });
  const height = along({
    count: m.rows,
    before: m.marginTopMm,
    after: m.marginBottomMm,
    gap: m.gapDownMm,
    label: m.labelHeightMm,
    paperMm: heightMm,
    paper,
    side: 'high',
    said,
  });
  if (typeof width === 'string' || typeof height === 'string') {
    const errors: SheetFaults = {};
    if (typeof width === 'string') errors.labelWidth = width;
    if (typeof height === 'string') errors.labelHeight = height;
    return { ok: false, errors };
  }
  const { columns, rows, marginTopMm, marginLeftMm, gapAcrossMm, gapDownMm } = m;
  const sheet = {
    paper,
    widthMm,
    heightMm,
    columns,
    rows,
    perSheet: columns * rows,
    labelWidthMm: width,
    labelHeightMm: height,
    marginTopMm,
    marginLeftMm,
    gapAcrossMm,
    gapDownMm,
  };
  return { ok: true, sheet };
}

/** The upper left corner of a label; `cell` counts from 0 along the rows. */
export function cornerOf(sheet: LaidSheet, cell: number): { xMm: number; yMm: number } {
  const column = cell % sheet.columns;
  const row = Math.floor(cell / sheet.columns);
  return {
    xMm: sheet.marginLeftMm + column * (sheet.labelWidthMm + sheet.gapAcrossMm),
    yMm: sheet.marginTopMm + row * (sheet.labelHeightMm + sheet.gapDownMm),
  };
}

/**
 * Shares labels out over sheets, beginning at label `first` (from 1) of the first one.
 *
 * @example dealOut(['a', 'b', 'c'], 4, 3) // [[{ cell: 2, what: 'a' }, { cell: 3, what: 'b' }], [{ cell: 0, what: 'c' }]]
 */
export function dealOut<T>(labels: readonly T[], perSheet: number, first: number) {
  const sheets: { cell: number; what: T }[][] = [];
  for (const [index, what] of labels.entries()) {
    const at = first - 1 + index;
    const number = Math.floor(at / perSheet) - Math.floor((first - 1) / perSheet);
    sheets[number] ??= [];
    sheets[number].push({ cell: at % perSheet, what });
  }
  return sheets;
}

/** The first unused label after a print, from 1; a sheet that is used up is followed by a new one. */
export const nextLabel = (first: number, printed: number, perSheet: number) =>
  ((first - 1 + printed) % perSheet) + 1;

/** For plain paper that is cut by hand, when no sheet has been measured yet. */
export const plainSheet = (paper: LabelPaper): SheetMeasures => ({
  columns: 3,
  rows: paper === 'A4' ? 8 : 7,
  marginTopMm: 10,
  marginLeftMm: 10,
  marginRightMm: null,
  marginBottomMm: null,
  gapAcrossMm: 0,
  gapDownMm: 0,
  labelWidthMm: null,
  labelHeightMm: null,
});
