/**
 * A number of a page, reckoned again from the values that stand beside it, by arithmetic that is written in the tests
 * and nowhere else. It says where its formula is from.
 */
export type Reckoning = {
  what: string;
  /** The end of the page's address. */
  page: string;
  source: string;
  /** The value that the page shows. */
  said: (text: string) => number;
  /** The same from what stands beside it. */
  again: (text: string) => number;
  /** How far the two may be apart: half of the last digit shown, or what comes of values that are shown rounded. */
  within: number;
};

/** A number as pages write it. */
export const number = (text: string | undefined) => Number((text ?? 'none').replaceAll(',', ''));
/** Every number that a pattern finds. */
export const all = (text: string, pattern: RegExp) => {
  const found = pattern.exec(text);
  if (!found) throw new Error(`the page does not say ${pattern}`);
  return found.slice(1).map(number);
};
/** The first of them. */
export const one = (pattern: RegExp) => (text: string) => all(text, pattern)[0] ?? Number.NaN;
