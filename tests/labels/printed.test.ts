import { describe, expect, it } from 'vitest';
import {
  cornerOf,
  type LaidSheet,
  layOutSheet,
  plainSheet,
  type SheetMeasures,
} from '../../shared/labels/sheet.ts';
import { Warnings } from '../../views/documents/characters.ts';
import { CODE_INSET_MM, type LabelData, LEAST_MODULE_MM, layOutLabel } from '../../views/documents/label.ts';
import { labelSheets } from '../../views/documents/label-sheet.ts';
import { QUIET_MODULES } from '../../views/documents/marks.ts';
import { mm } from '../../views/documents/paper.ts';
import { overlaps } from '../documents/on-paper.ts';
import { decodeQr, nodesOf, type ReadPage, readPdf } from '../documents/read-pdf.ts';
import { options } from '../documents/sample-orders.ts';

const labelOf = (code: string, more: Partial<LabelData> = {}): LabelData => ({
  code,
  url: `https://bench.example.org/c/${encodeURIComponent(code)}`,
  scientificName: 'Exemplum vetus',
  line: 'line dusk',
  place: 'Cellar / Rack 1 / Shelf 2',
  ...more,
});

const small: SheetMeasures = {
  ...plainSheet('A4'),
  columns: 4,
  rows: 12,
  marginTopMm: 12,
  marginLeftMm: 9.7,
  gapAcrossMm: 2.6,
  gapDownMm: 1.3,
  labelWidthMm: 45.7,
  labelHeightMm: 21.2,
};
const upright: SheetMeasures = { ...plainSheet('A4'), columns: 6, rows: 6 };

function laid(measures: SheetMeasures, paper: 'A4' | 'Letter' = 'A4'): LaidSheet {
  const made = layOutSheet(measures, paper);
  if (!made.ok) throw new Error(JSON.stringify(made.errors));
  return made.sheet;
}

async function printed(sheet: LaidSheet, labels: LabelData[], first = 1) {
  const { pdf, warnings } = await labelSheets({ sheet, labels, first, cutLines: true }, options);
  return { warnings, read: await readPdf(pdf) };
}

/** What of a page lies within one label. */
function within(page: ReadPage, sheet: LaidSheet, cell: number): ReadPage {
  const { xMm, yMm } = cornerOf(sheet, cell);
  const [left, top] = [mm(xMm) - 0.01, mm(yMm) - 0.01];
  const [right, bottom] = [left + mm(sheet.labelWidthMm) + 0.02, top + mm(sheet.labelHeightMm) + 0.02];
  return {
    ...page,
    blackAreas: page.blackAreas.filter(({ x, y }) => x >= left && x < right && y >= top && y < bottom),
    texts: page.texts.filter(({ xPt, yPt }) => xPt >= left && xPt < right && yPt >= top && yPt < bottom),
  };
}

const leftOf = (page: ReadPage) => Math.min(...page.blackAreas.map(({ x }) => x));
const topOf = (page: ReadPage) => Math.min(...page.blackAreas.map(({ y }) => y));
const toMm = (pt: number) => (pt * 25.4) / 72;

const codes = (count: number) =>
  Array.from({ length: count }, (_, i) => `PSC-${String(i + 1).padStart(3, '0')}`);

describe('a sheet of labels', () => {
  it.each([
    ['plain paper', laid(plainSheet('A4'))],
    ['Letter', laid(plainSheet('Letter'), 'Letter')],
    ['small labels', laid(small)],
    ['upright labels', laid(upright)],
  ] as const)(
    'of %s has a code on every label that another library reads, and its words beside it',
    async (_, sheet) => {
      const labels = codes(sheet.perSheet).map((code) => labelOf(code));
      const { read, warnings } = await printed(sheet, labels);
      expect(warnings).toEqual([]);
      expect(read.pages).toHaveLength(1);
      for (const [cell, label] of labels.entries()) {
        const own = within(read.pages[0]!, sheet, cell);
        expect(decodeQr(own), label.code).toBe(label.url);
        expect(own.texts.map(({ text }) => text).join(' ')).toContain(label.code);
      }
      expect(overlaps(read.pages[0]!)).toEqual([]);
    },
  );

  it.each([
    ['plain paper', laid(plainSheet('A4'))],
    ['small labels', laid(small)],
  ] as const)('of %s keeps its measures to a tenth of a millimetre', async (_, sheet) => {
    const labels = codes(sheet.perSheet).map((code) => labelOf(code));
    const { read } = await printed(sheet, labels);
    const [page] = read.pages;
    expect(toMm(page!.widthPt)).toBeCloseTo(210, 1);
    expect(toMm(page!.heightPt)).toBeCloseTo(297, 1);
    for (const cell of labels.keys()) {
      const own = within(page!, sheet, cell);
      const { xMm, yMm } = cornerOf(sheet, cell);
      const moduleMm = toMm(Math.min(...own.blackAreas.map(({ height }) => height)));
      const sideMm = toMm(Math.max(...own.blackAreas.map(({ x, width }) => x + width)) - leftOf(own));
      const above = (sheet.labelHeightMm - sideMm) / 2;
      expect(Math.abs(toMm(leftOf(own)) - (xMm + CODE_INSET_MM + QUIET_MODULES * moduleMm))).toBeLessThan(
        0.1,
      );
      expect(Math.abs(toMm(topOf(own)) - (yMm + above))).toBeLessThan(0.1);
    }
    const step = toMm(leftOf(within(page!, sheet, 1)) - leftOf(within(page!, sheet, 0)));
    expect(Math.abs(step - sheet.labelWidthMm - sheet.gapAcrossMm)).toBeLessThan(0.1);
    const down = toMm(topOf(within(page!, sheet, sheet.columns)) - topOf(within(page!, sheet, 0)));
    expect(Math.abs(down - sheet.labelHeightMm - sheet.gapDownMm)).toBeLessThan(0.1);
  });

  it('begins where the part-used one ends', async () => {
    const sheet = laid(plainSheet('A4'));
    const { read } = await printed(
      sheet,
      codes(3).map((code) => labelOf(code)),
      23,
    );
    expect(read.pages).toHaveLength(2);
    expect(within(read.pages[0]!, sheet, 0).blackAreas).toEqual([]);
    expect(decodeQr(within(read.pages[0]!, sheet, 23))).toBe('https://bench.example.org/c/PSC-002');
    expect(decodeQr(within(read.pages[1]!, sheet, 0))).toBe('https://bench.example.org/c/PSC-003');
  });

  it('prints codes as large as they can stand, and nothing beyond its label', async () => {
    const sheet = laid(plainSheet('A4'));
    const long = ['W'.repeat(24), 'ARM-VULGARE-ORANGE-2026A', 'i'.repeat(24), 'ÄÖÜ-001', 'A/1'];
    const names = {
      scientificName: `Exemplum ${'longissimum '.repeat(9)}`.trim(),
      place: 'Room / '.repeat(16),
    };
    const { read } = await printed(
      sheet,
      ['PSC-014', ...long].map((code) => labelOf(code, names)),
    );
    const [page] = read.pages;
    for (const [cell, code] of ['PSC-014', ...long].entries()) {
      const own = within(page!, sheet, cell);
      expect(decodeQr(own), code).toBe(labelOf(code).url);
      const right = mm(cornerOf(sheet, cell).xMm + sheet.labelWidthMm);
      for (const text of own.texts) expect(text.xPt + text.widthPt, text.text).toBeLessThanOrEqual(right);
      const said = own.texts.map(({ text }) => text).join('');
      expect(said.replace(/ /g, '')).toContain(code);
    }
    const size = (text: string) => page!.texts.find((each) => each.text === text)?.sizePt ?? 0;
    expect(size('PSC-014')).toBeGreaterThanOrEqual(20);
    expect(overlaps(page!)).toEqual([]);
  });

  it('prints other scripts; marks what no font has, says so, and its code still opens the culture', async () => {
    const sheet = laid(plainSheet('A4'));
    const hebrew = labelOf('\u05d0\u05d1-014', {
      place: '\u05de\u05d3\u05e3 1',
      line: 'line \u0645\u062b\u0627\u0644',
    });
    const { read, warnings } = await printed(sheet, [hebrew]);
    expect(decodeQr(within(read.pages[0]!, sheet, 0))).toBe(hebrew.url);
    expect(decodeURIComponent(hebrew.url)).toContain(hebrew.code);
    expect(warnings).toEqual([]);
    for (const words of ['\u05d0\u05d1', '\u05de\u05d3\u05e3', '\u0645\u062b\u0627\u0644'])
      expect(read.words).toContain(words);
    const strange = labelOf('\u{10480}-014', {});
    const marked = await printed(sheet, [strange]);
    expect(decodeQr(within(marked.read.pages[0]!, sheet, 0))).toBe(strange.url);
    expect(marked.warnings.join(' ')).toContain('No print font has these characters');
    expect(marked.read.words).toContain('[?]');
  });

  it('is tagged, with the address of each code in words', async () => {
    const { read } = await printed(laid(plainSheet('A4')), [labelOf('PSC-001')]);
    const figure = read.pages.flatMap((page) => nodesOf(page.tree)).find(({ role }) => role === 'Figure');
    expect(figure?.alt).toBe('QR code: opens the check of PSC-001, https://bench.example.org/c/PSC-001');
    expect(read).toMatchObject({ marked: true, title: 'Labels, 1' });
  });

  it('goes on over as many sheets as are needed, each label with its own code', async () => {
    const sheet = laid(small);
    const labels = codes(150).map((code) => labelOf(code));
    const { read } = await printed(sheet, labels, 7);
    expect(read.pages).toHaveLength(Math.ceil(156 / 48));
    const printedOn = read.pages.flatMap((page) =>
      Array.from({ length: sheet.perSheet }, (_, cell) => within(page, sheet, cell)).filter(
        ({ blackAreas }) => blackAreas.length > 0,
      ),
    );
    expect(printedOn).toHaveLength(150);
    const patterns = printedOn.map((own) =>
      own.blackAreas
        .map(({ x, y, width }) =>
          [x - leftOf(own), y - topOf(own), width].map((pt) => pt.toFixed(1)).join(' '),
        )
        .join(),
    );
    expect(new Set(patterns).size).toBe(150);
    // reading a picture takes a while: every seventeenth, which is in turn in every column
    for (const [index, own] of printedOn.entries())
      if (index % 17 === 0) expect(decodeQr(own)).toBe(labels[index]?.url);
  });
});

describe('the squares of a code', () => {
  it('are as large as the label says they are', async () => {
    for (const measures of [plainSheet('A4'), small, upright]) {
      const sheet = laid(measures);
      const label = labelOf('PSC-001');
      const said = layOutLabel(label, sheet.labelWidthMm, sheet.labelHeightMm, new Warnings()).moduleMm;
      const { read } = await printed(sheet, [label]);
      const drawn = Math.min(...read.pages[0]!.blackAreas.map(({ height }) => toMm(height)));
      expect(drawn).toBeCloseTo(said, 2);
      expect(drawn).toBeGreaterThanOrEqual(LEAST_MODULE_MM);
    }
  });

  it('keep four of them free on every side, as ISO/IEC 18004 asks', async () => {
    const sheet = laid(small);
    const { read } = await printed(
      sheet,
      codes(2).map((code) => labelOf(code)),
    );
    const own = within(read.pages[0]!, sheet, 0);
    const module = Math.min(...own.blackAreas.map(({ height }) => height));
    const right = Math.max(...own.blackAreas.map(({ x, width }) => x + width));
    for (const text of own.texts) expect(text.xPt).toBeGreaterThanOrEqual(right + 4 * module - 0.01);
    expect(leftOf(own) - mm(cornerOf(sheet, 0).xMm)).toBeGreaterThanOrEqual(4 * module);
  });
});
