import bidiFactory, { type Bidi } from 'bidi-js';

// the package's types describe a module whose default export has a default in it; what runs is the factory itself
const bidi = (bidiFactory as unknown as () => Bidi)();

const RIGHT_TO_LEFT =
  /[\u0590-\u08ff\u200f\u2067\ufb1d-\ufdff\ufe70-\ufefc\u{10800}-\u{10fff}\u{1e800}-\u{1efff}]/u;

/** Whether any character is written from right to left. */
export const hasRightToLeft = (text: string): boolean => RIGHT_TO_LEFT.test(text);

/** The direction of a paragraph: that of its first letter which has one (Unicode Standard Annex 9, P2 and P3). */
export function baseOf(text: string): 'ltr' | 'rtl' {
  if (!hasRightToLeft(text)) return 'ltr';
  return (bidi.getEmbeddingLevels(text, 'auto').paragraphs[0]?.level ?? 0) % 2 === 1 ? 'rtl' : 'ltr';
}

/** The level of each UTF-16 unit: odd is from right to left (Unicode Standard Annex 9). */
export function levelsOf(text: string, base: 'ltr' | 'rtl'): Uint8Array {
  return bidi.getEmbeddingLevels(text, base).levels;
}

/**
 * The order in which stretches stand from left to right, given their levels in the order of reading (rule L2).
 *
 * @example visualOrder([0, 1, 2, 1, 0]) // [0, 3, 2, 1, 4]
 */
export function visualOrder(levels: readonly number[]): number[] {
  const order = levels.map((_level, index) => index);
  const highest = Math.max(0, ...levels);
  for (let level = highest; level >= 1; level -= 1) {
    for (let from = 0; from < order.length; ) {
      let to = from;
      while (to < order.length && (levels[order[to] ?? 0] ?? 0) >= level) to += 1;
      if (to - from > 1) order.splice(from, to - from, ...order.slice(from, to).reverse());
      from = Math.max(to, from + 1);
    }
  }
  return order;
}
