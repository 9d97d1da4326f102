import { describe, expect, it } from 'vitest';
import {
  cornerOf,
  dealOut,
  labelPapersMm,
  layOutSheet,
  nextLabel,
  plainSheet,
  type SaidIn,
  type SheetMeasures,
} from '../../shared/labels/sheet.ts';

const measures: SheetMeasures = {
  columns: 3,
  rows: 8,
  marginTopMm: 10,
  marginLeftMm: 10,
  marginRightMm: null,
  marginBottomMm: null,
  gapAcrossMm: 5,
  gapDownMm: 0,
  labelWidthMm: null,
  labelHeightMm: null,
};

function laid(changes: Partial<SheetMeasures> = {}, paper: 'A4' | 'Letter' = 'A4') {
  const made = layOutSheet({ ...measures, ...changes }, paper);
  if (!made.ok) throw new Error(JSON.stringify(made.errors));
  return made.sheet;
}

const faults = (changes: Partial<SheetMeasures>, paper: 'A4' | 'Letter' = 'A4', said?: SaidIn) => {
  const made = layOutSheet({ ...measures, ...changes }, paper, said);
  const plain = (text = '') => text.replaceAll('\u00a0', ' ');
  return made.ok
    ? {}
    : Object.fromEntries(Object.entries(made.errors).map(([name, text]) => [name, plain(text)]));
};

describe('the papers', () => {
  it('have their published sizes', () => {
    // ISO 216:2007, table 1: A4 is 210 mm by 297 mm.
    expect(labelPapersMm.A4).toEqual({ widthMm: 210, heightMm: 297 });
    // ANSI/ASME Y14.1, size A: 8.5 in by 11 in, at 25.4 mm to the inch.
    expect(labelPapersMm.Letter.widthMm).toBeCloseTo(8.5 * 25.4, 9);
    expect(labelPapersMm.Letter.heightMm).toBeCloseTo(11 * 25.4, 9);
  });
});

describe('a sheet', () => {
  it('gives its labels what margins and gaps leave', () => {
    const sheet = laid();
    expect(sheet.labelWidthMm).toBeCloseTo((210 - 20 - 10) / 3, 9);
    expect(sheet.labelHeightMm).toBeCloseTo((297 - 20) / 8, 9);
    expect(sheet.perSheet).toBe(24);
    expect(laid({ marginRightMm: 4 }).labelWidthMm).toBeCloseTo((210 - 14 - 10) / 3, 9);
    expect(laid({}, 'Letter').labelWidthMm).toBeCloseTo((215.9 - 30) / 3, 9);
  });

  it('takes a width and a height that are given', () => {
    const sheet = laid({ labelWidthMm: 60.5, labelHeightMm: 33.9, gapAcrossMm: 2.5 });
    expect(cornerOf(sheet, 0)).toEqual({ xMm: 10, yMm: 10 });
    expect(cornerOf(sheet, 4).xMm).toBeCloseTo(10 + 63, 9);
    expect(cornerOf(sheet, 4).yMm).toBeCloseTo(10 + 33.9, 9);
  });

  it('says beside the field how much too large its labels are', () => {
    expect(faults({ labelWidthMm: 70 })).toEqual({
      labelWidth: '3 labels of 70 mm with their margins and gaps need 230 mm; A4 is 210 mm wide.',
    });
    expect(faults({ labelHeightMm: 40 }, 'Letter')).toEqual({
      labelHeight: '8 labels of 40 mm with their margins and gaps need 330 mm; Letter is 279.4 mm high.',
    });
    expect(faults({ marginLeftMm: 100 }).labelWidth).toBe(
      'Margins and gaps leave 0 mm for each label; it needs at least 8 mm.',
    );
    expect(faults({ labelWidthMm: 60, marginRightMm: 20, gapAcrossMm: 0 })).toEqual({});
    expect(faults({ labelWidthMm: 60, marginRightMm: 21, gapAcrossMm: 0 }).labelWidth).toContain('211 mm');
  });

  it('says so in inches where labels are measured in them, and writes numbers as they are written there', () => {
    const us: SaidIn = { units: 'us', locale: 'en-US' };
    expect(faults({ labelWidthMm: 76.2 }, 'Letter', us)).toEqual({
      labelWidth: '3 labels of 3 in with their margins and gaps need 9.79 in; Letter is 8.5 in wide.',
    });
    expect(faults({ marginLeftMm: 100 }, 'A4', us).labelWidth).toContain('at least 0.31 in');
    expect(
      faults({ labelHeightMm: 40 }, 'Letter', { units: 'metric', locale: 'de-DE' }).labelHeight,
    ).toContain('279,4 mm');
  });

  it('lies on the paper whole, whatever was typed', () => {
    for (const paper of ['A4', 'Letter'] as const) {
      for (const columns of [1, 2, 5, 12])
        for (const marginLeftMm of [0, 3.3, 25])
          for (const gapAcrossMm of [0, 2.54]) {
            const made = layOutSheet({ ...plainSheet(paper), columns, marginLeftMm, gapAcrossMm }, paper);
            if (!made.ok) continue;
            const last = cornerOf(made.sheet, made.sheet.perSheet - 1);
            expect(last.xMm + made.sheet.labelWidthMm).toBeLessThanOrEqual(made.sheet.widthMm + 0.05);
            expect(last.yMm + made.sheet.labelHeightMm).toBeLessThanOrEqual(made.sheet.heightMm + 0.05);
          }
    }
  });
});

describe('labels', () => {
  it('are dealt out along the rows, from the first that is left', () => {
    expect(dealOut(['a', 'b', 'c'], 4, 3)).toEqual([
      [
        { cell: 2, what: 'a' },
        { cell: 3, what: 'b' },
      ],
      [{ cell: 0, what: 'c' }],
    ]);
    expect(dealOut([], 4, 1)).toEqual([]);
    const many = dealOut(
      Array.from({ length: 500 }, (_, i) => i),
      24,
      24,
    );
    expect(many.flat().map(({ what }) => what)).toEqual(Array.from({ length: 500 }, (_, i) => i));
    expect(many.map((sheet) => sheet.length)).toEqual([1, ...Array(20).fill(24), 19]);
  });

  it('leave the next one free', () => {
    expect(nextLabel(1, 5, 24)).toBe(6);
    expect(nextLabel(20, 5, 24)).toBe(1);
    expect(nextLabel(24, 2, 24)).toBe(2);
  });
});
