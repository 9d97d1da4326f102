import { expect } from 'vitest';
import type { ReadPage, ReadPdf, ReadText } from './read-pdf.ts';

/** 14 mm, less a tenth of a point for rounding. */
const MARGIN_PT = (14 * 72) / 25.4 - 0.1;

/** No words leave the margins and none lie on others, on any page. */
export function expectTidy(pdf: ReadPdf): void {
  for (const [index, page] of pdf.pages.entries()) {
    for (const text of page.texts) {
      const said = `page ${index + 1}: ${JSON.stringify(text)}`;
      expect(text.xPt, said).toBeGreaterThanOrEqual(MARGIN_PT);
      expect(text.xPt + text.widthPt, said).toBeLessThanOrEqual(page.widthPt - MARGIN_PT + 1);
      expect(text.yPt - text.sizePt * 0.7, said).toBeGreaterThanOrEqual(MARGIN_PT - 2);
      expect(text.yPt, said).toBeLessThanOrEqual(page.heightPt - MARGIN_PT);
    }
    expect(overlaps(page), `page ${index + 1}`).toEqual([]);
  }
}

/** Pairs of words whose letters (from the baseline to the height of a small letter) share some paper. */
export function overlaps(page: ReadPage): string[] {
  const found: string[] = [];
  for (const [index, one] of page.texts.entries()) {
    for (const other of page.texts.slice(index + 1)) {
      if (sharedPt(one, other) > 1) found.push(`${one.text} / ${other.text}`);
    }
  }
  return found;
}

function sharedPt(one: ReadText, other: ReadText): number {
  const across = Math.min(one.xPt + one.widthPt, other.xPt + other.widthPt) - Math.max(one.xPt, other.xPt);
  const down =
    Math.min(one.yPt, other.yPt) - Math.max(one.yPt - one.sizePt / 2, other.yPt - other.sizePt / 2);
  return across > 0 && down > 0 ? Math.min(across, down) : 0;
}
