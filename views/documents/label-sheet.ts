import { setImmediate } from 'node:timers/promises';
import { cornerOf, dealOut, type LaidSheet } from '../../shared/labels/sheet.ts';
import { Warnings } from './characters.ts';
import { asPlaced, boxMark, type Element, element, type Placed } from './drawing.ts';
import { type LabelData, layOutLabel } from './label.ts';
import { HAIRLINE, mm, paperOf } from './paper.ts';
import { type PrintPage, printPages } from './print.ts';
import { type Printed, type PrintOptions, wordsLang } from './print-options.ts';

export interface LabelPrint {
  sheet: LaidSheet;
  labels: readonly LabelData[];
  /** The first label used on the first sheet, from 1 along the rows. */
  first: number;
  /** A hairline around each label, for paper that is cut by hand. */
  cutLines: boolean;
}

/**
 * Sheets of labels as a PDF, true to size: no running head or foot, since a sheet may be labels from edge to edge.
 * Warnings name what could not be printed as given.
 */
export async function labelSheets(print: LabelPrint, options: PrintOptions): Promise<Printed> {
  const { sheet, labels, first } = print;
  const warnings = new Warnings();
  const root = element('Document', null);
  const sheets = dealOut(labels, sheet.perSheet, first);
  const pages: PrintPage[] = [];
  for (const [index, cells] of sheets.entries()) {
    const placed = cells.flatMap(({ cell, what }) => drawLabel(what, cell, print, root, warnings));
    pages.push({ placed, bookmark: `Sheet ${index + 1} of ${sheets.length}` });
    // others want their pages too
    await setImmediate();
  }
  const pdf = await printPages(pages, root, paperOf(sheet.paper), {
    title: `Labels, ${labels.length}`,
    author: options.businessName,
    lang: wordsLang(options),
    createdAt: options.createdAt,
  });
  return { pdf, warnings: warnings.list };
}

function drawLabel(
  label: LabelData,
  cell: number,
  { sheet, cutLines }: LabelPrint,
  root: Element,
  warnings: Warnings,
): Placed[] {
  const { xMm, yMm } = cornerOf(sheet, cell);
  const part = element('Sect', root);
  const figure = element('Figure', part, { alt: `QR code: opens the check of ${label.code}, ${label.url}` });
  const text = element('P', part);
  const laid = layOutLabel(label, sheet.labelWidthMm, sheet.labelHeightMm, warnings);
  const edge = boxMark(mm(xMm), mm(yMm), mm(sheet.labelWidthMm), mm(sheet.labelHeightMm), {
    widthPt: HAIRLINE,
  });
  return [...(cutLines ? asPlaced([edge], null) : []), ...laid.draw(mm(xMm), mm(yMm), { figure, text })];
}
