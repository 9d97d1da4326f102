import { type LaidSheet, layOutSheet, plainSheet } from '../../shared/labels/sheet.ts';
import { Warnings } from '../../views/documents/characters.ts';
import { type LabelData, LEAST_MODULE_MM, layOutLabel } from '../../views/documents/label.ts';
import { QUIET_MODULES } from '../../views/documents/marks.ts';
import { POINTS_PER_MM } from '../../views/documents/paper.ts';
import { type SaidIn, sayLeast, saySquares } from '../../views/labels/say.ts';
import type { SmallestCode } from '../../views/labels/say-worked-out.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { ownAddress } from '../plumbing/own-address.ts';
import type { CultureForLabel, LabelSheet } from './queries.ts';

/** What a code on a label opens: short, so that the squares of the code can be large. */
const scanAddress = (call: Pick<StaffCall, 'config'>, code: string) =>
  `${ownAddress(call.config)}/c/${encodeURIComponent(code)}`;

export const labelOf = (call: StaffCall, culture: Omit<CultureForLabel, 'id' | 'hasLabel'>): LabelData => ({
  code: culture.code,
  url: scanAddress(call, culture.code),
  scientificName: culture.scientificName,
  line: [culture.line && `line ${culture.line}`, culture.morph].filter(Boolean).join(', '),
  place: culture.place ?? '',
});

/** A sheet's measures on the business's paper; null when they do not fit (the paper was changed since). */
export function sheetOn(call: StaffCall, stored: LabelSheet | null): LaidSheet | null {
  const { paper } = call.business;
  const laid = layOutSheet(stored ?? plainSheet(paper), paper);
  return laid.ok ? laid.sheet : null;
}

export type Judged = {
  tooSmall: string[];
  smallestMm: number;
  smallest: SmallestCode | null;
  leftOut: string[];
  warnings: string[];
};

type Laid = ReturnType<typeof layOutLabel> & { code: string };

/** The code with the smallest squares, as it stands on its label. */
function smallestOf(laid: readonly Laid[]): SmallestCode | null {
  const [first, ...others] = laid;
  if (!first) return null;
  const { code, moduleMm, scan } = others.reduce((a, b) => (b.moduleMm < a.moduleMm ? b : a), first);
  const sideMm = scan.sidePt / POINTS_PER_MM;
  return { code, moduleMm, sideMm, squares: Math.round(sideMm / moduleMm) - 2 * QUIET_MODULES };
}

/** Whether the labels can be read: codes with too small squares, what found no room, characters no font has. */
export function judge(labels: readonly LabelData[], sheet: LaidSheet): Judged {
  const warnings = new Warnings();
  const laid = labels.map((label) => ({
    code: label.code,
    ...layOutLabel(label, sheet.labelWidthMm, sheet.labelHeightMm, warnings),
  }));
  const smallest = smallestOf(laid);
  return {
    tooSmall: laid.filter(({ moduleMm }) => moduleMm < LEAST_MODULE_MM - 0.001).map(({ code }) => code),
    smallestMm: smallest?.moduleMm ?? Number.POSITIVE_INFINITY,
    smallest,
    leftOut: [...new Set(laid.flatMap(({ leftOut }) => leftOut))],
    warnings: warnings.list,
  };
}

/** Said beside the field that makes the code too small. */
export function moduleFault(smallestMm: number, code: string, said: SaidIn): string {
  return `The squares of the QR code of ${code} would be ${saySquares(smallestMm, said)}; below ${sayLeast(said)} phones often fail to read it (common practice). Make labels larger, or the address of this service shorter.`;
}
