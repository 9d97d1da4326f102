import type { LaidSheet } from '../../shared/labels/sheet.ts';
import { formatCount, formatNumber } from '../layout/format.ts';
import { type SaidIn, sayLength, saySquares } from './say.ts';

type Way = {
  word: string;
  paperMm: number;
  beforeMm: number;
  gapMm: number;
  count: number;
  labelMm: number;
};

/** "Across: (210 mm − 10 mm − 10 mm of margins − 2 × 5 mm of gaps) ÷ 3 labels = 60 mm." */
function sayWay({ word, paperMm, beforeMm, gapMm, count, labelMm }: Way, said: SaidIn): string {
  const length = (mm: number) => sayLength(mm, said);
  const afterMm = paperMm - beforeMm - count * labelMm - (count - 1) * gapMm;
  const gaps = gapMm > 0 && count > 1 ? ` − ${count - 1} × ${length(gapMm)} of gaps` : '';
  const margins = `${length(paperMm)} − ${length(beforeMm)} − ${length(Math.max(0, afterMm))} of margins`;
  return `${word}: (${margins}${gaps}) ÷ ${formatCount(count, 'label')} = ${length(labelMm)}.`;
}

/** How wide and how high the labels of a sheet come out, step by step. */
export function sayLabels(sheet: LaidSheet, said: SaidIn): string[] {
  const across = {
    word: 'Across',
    paperMm: sheet.widthMm,
    beforeMm: sheet.marginLeftMm,
    gapMm: sheet.gapAcrossMm,
    count: sheet.columns,
    labelMm: sheet.labelWidthMm,
  };
  const down = {
    word: 'Down',
    paperMm: sheet.heightMm,
    beforeMm: sheet.marginTopMm,
    gapMm: sheet.gapDownMm,
    count: sheet.rows,
    labelMm: sheet.labelHeightMm,
  };
  return [sayWay(across, said), sayWay(down, said)];
}

/** The code with the smallest squares: its side with the white margin, and the squares along it without. */
export type SmallestCode = { code: string; sideMm: number; squares: number; moduleMm: number };

/** How large the smallest squares come out. */
export function saySmallest(smallest: SmallestCode | null, said: SaidIn): string[] {
  if (!smallest) return [];
  const { code, sideMm, squares, moduleMm } = smallest;
  return [
    `Code of ${code}: ${sayLength(sideMm, said)} ÷ (${formatNumber(squares, said.locale)} squares + 2 × 4 that stay white) = ${saySquares(moduleMm, said)}, rounded down.`,
  ];
}
