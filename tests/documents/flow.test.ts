import { describe, expect, it } from 'vitest';
import { paragraph, stack } from '../../views/documents/blocks.ts';
import { Warnings } from '../../views/documents/characters.ts';
import { flow, type Slab, SlabTooHigh } from '../../views/documents/flow.ts';

const frame = { xPt: 0, yPt: 0, widthPt: 100, bottomPt: 100 };

/** A slab that draws one dot with its name. */
function slab(name: string, heightPt: number, more: Partial<Slab> = {}): Slab {
  return {
    heightPt,
    gapPt: 0,
    keepWithNext: false,
    draw: (xPt, yPt) => [
      {
        element: null,
        mark: { kind: 'text', xPt, yPt, text: name, face: 'regular', sizePt: 1, tabular: false },
      },
    ],
    ...more,
  };
}

const pagesOf = (slabs: Slab[]) =>
  flow(slabs, () => frame).map((page) =>
    page.map(({ mark }) => (mark.kind === 'text' ? `${mark.text.trim()}@${mark.yPt.toFixed(0)}` : '')),
  );

describe('flow', () => {
  it('fills pages one after the other and drops the gap at the top of a page', () => {
    const slabs = ['a', 'b', 'c'].map((name) => slab(name, 45, { gapPt: 10 }));
    expect(pagesOf(slabs)).toEqual([['a@0', 'b@55'], ['c@0']]);
  });
  it('never leaves a heading alone at the foot', () => {
    expect(pagesOf([slab('a', 70), slab('heading', 10, { keepWithNext: true }), slab('text', 30)])).toEqual([
      ['a@0'],
      ['heading@0', 'text@10'],
    ]);
  });
  it('divides what is higher than a page', () => {
    const rows = Array.from({ length: 25 }, (_each, index) => slab(`r${index}`, 10));
    const pages = pagesOf([slab('a', 35), stack(rows)]);
    expect(pages.map((page) => page.length)).toEqual([7, 10, 9]);
  });
  it('says so when something cannot be divided', () => {
    expect(() => flow([slab('a', 101)], () => frame)).toThrow(SlabTooHigh);
  });
  it('leaves no single line of a paragraph at the foot or the head of a page', () => {
    const text = Array.from({ length: 4 }, (_each, index) => `line${index}`).join('\n');
    const four = paragraph(
      [{ text, style: { face: 'regular', sizePt: 10, leading: 1 } }],
      90,
      null,
      new Warnings(),
    );
    const pages = (before: number) => pagesOf([slab('a', before), ...four]).map((page) => page.length);
    expect(pages(85)).toEqual([1, 4]);
    expect(pages(65)).toEqual([3, 2]);
  });
});
