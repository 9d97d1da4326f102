import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Warnings } from '../../views/documents/characters.ts';
import { shrinkToLine, type TextStyle, widthOfPieces, wrap } from '../../views/documents/lines.ts';

const style: TextStyle = { face: 'regular', sizePt: 12 };
const lines = (text: string, widthPt: number, given = style) =>
  wrap([{ text, style: given }], widthPt, new Warnings());
const texts = (text: string, widthPt: number, given = style) =>
  lines(text, widthPt, given).map((line) => line.runs.map((run) => run.text).join(''));

describe('wrap', () => {
  it('never makes a line wider than its room, whatever the text', () => {
    const word = fc.string({ unit: fc.constantFrom(...'abcdefgWMil-/ \nёφễ漢'), maxLength: 120 });
    fc.assert(
      fc.property(word, fc.integer({ min: 40, max: 300 }), (text, widthPt) => {
        for (const line of lines(text, widthPt)) expect(line.widthPt).toBeLessThanOrEqual(widthPt + 0.5);
      }),
    );
  });
  it('loses no letter', () => {
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom(...'abc- /é'), maxLength: 200 }), (text) => {
        const bare = (part: string) => part.replaceAll(' ', '');
        expect(bare(texts(text, 60).join(''))).toBe(bare(text));
      }),
    );
  });
  it('keeps an unseen space at a line end, so that words do not run together when read aloud', () => {
    const [first] = texts('orange isopod', 60);
    expect(first).toBe('orange ');
    expect(lines('orange isopod', 60)[0]?.widthPt).toBeCloseTo(
      widthOfPieces([{ text: 'orange', style }], new Warnings()),
      3,
    );
  });
  it('breaks after a hyphen, but never within a code', () => {
    expect(texts('springtail-friendly', 70)).toEqual(['springtail-', 'friendly']);
    expect(texts('to PSC-014', 55)).toEqual(['to ', 'PSC-014']);
    expect(texts('PSC-A14', 30, { face: 'mono', sizePt: 12 }).length).toBeGreaterThan(1);
  });
  it('does not part a figure from its unit', () => {
    expect(texts('keep at 20\u00a0°C', 60)).toEqual(['keep at ', '20 °C']);
  });
  it('makes an empty line of an empty paragraph', () => {
    expect(lines('a\n\nb', 100)).toHaveLength(3);
  });
});

describe('shrinkToLine', () => {
  const code = [{ text: 'PSC-000014-LONG', style: { face: 'monoBold' as const, sizePt: 24 } }];
  it('makes a long code just fit', () => {
    const shrunk = shrinkToLine(code, 150, 0.4, new Warnings());
    expect(widthOfPieces(shrunk, new Warnings())).toBeCloseTo(150, 3);
  });
  it('stops at its least size and leaves the rest to wrapping', () => {
    expect(shrinkToLine(code, 10, 0.5, new Warnings())[0]?.style.sizePt).toBe(12);
  });
  it('never enlarges', () => {
    expect(shrinkToLine(code, 5000, 0.5, new Warnings())[0]?.style.sizePt).toBe(24);
  });
});
