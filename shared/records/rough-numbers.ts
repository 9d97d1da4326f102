export type DecimalMark = '.' | ',';

export interface NumberRead {
  value: number;
  /** Not a plain number: about so many, at least so many, or a range. */
  rough: boolean;
  /** What was written, where it says more than the plain number. */
  wording: string | null;
}

export type NumberReading =
  | NumberRead
  | { fault: 'number-negative' | 'number-not-understood'; reason: string };

const ABOUT =
  /^(?:~|≈|±|about|around|approximately|approx\.?|circa|ca\.?|c\.|roughly|abt\.?|some|est\.?|maybe|nearly|almost)\s*/;
const AT_LEAST = /^(?:>=?|≥|over|more than|at least|min\.?)\s*/;
const AT_MOST = /^(?:<=?|≤|under|less than|at most|up to|max\.?)\s*/;
const AFTER = /\s*(?:\+|\?|-?ish|or so|or more|plus)$/;
const UNIT =
  /\s*(?:animals?|individuals?|adults?|juveniles?|juvs?|young|pcs\.?|pieces|seen|counted|visible|x)$/;
const RANGE = /^(\S+?)\s*(?:-|–|—|to|…|\.\.)\s*(\S+)$/;
const NEGATIVE = /^[-−–]\s*[\d.,]/;
const PLAIN: Record<DecimalMark, RegExp> = {
  '.': /^(?:\d+|\d{1,3}(?:[, ]\d{3})+)(?:\.\d+)?$/,
  ',': /^(?:\d+|\d{1,3}(?:[. ]\d{3})+)(?:,\d+)?$/,
};
const LONGEST = 80;

/**
 * The number in a cell, however roughly it is put: `40`, `~40`, `40+`, `about 40`, `ca. 40`, `40-50` (taken at its
 * middle, rounded down), `<40`, `2 dozen`. The wording is kept where it says more than the number.
 * A minus sign and words without a number are faults. Thousands may be parted by a space, or by the mark that is
 * not the decimal mark.
 *
 * @example readNumber('40-50', '.') // { value: 45, rough: true, wording: '40-50' }
 */
export function readNumber(cell: string, mark: DecimalMark): NumberReading {
  const wording = cell.trim().replace(/\s+/g, ' ');
  const text = wording.normalize('NFKC').toLowerCase();
  const plain = plainNumber(text, mark);
  if (plain !== null) return { value: plain, rough: false, wording: null };
  if (NEGATIVE.test(text)) {
    return { fault: 'number-negative', reason: `“${short(wording)}” is below zero.` };
  }
  const value = text.length > LONGEST ? null : roughValue(text, mark);
  if (value === null) {
    return { fault: 'number-not-understood', reason: `“${short(wording)}” is not understood as a number.` };
  }
  return { ...value, wording };
}

/** Whether a cell can be read as a number in either way of writing decimals, for guessing what a column holds. */
export function looksLikeNumber(cell: string): boolean {
  return !('fault' in readNumber(cell, '.')) || !('fault' in readNumber(cell, ','));
}

/** The decimal mark a column uses: the comma only where a cell says so and none says the point. */
export function guessDecimalMark(cells: Iterable<string>): DecimalMark {
  let commas = 0;
  for (const cell of cells) {
    if (/^\s*\d+\.\d+\s*$/.test(cell)) return '.';
    if (/^\s*\d+,\d{1,2}\s*$/.test(cell)) commas += 1;
  }
  return commas > 0 ? ',' : '.';
}

/** A number written in full, or null. `1,200` is twelve hundred where the point is the decimal mark. */
export function plainNumber(text: string, mark: DecimalMark): number | null {
  if (text.length > 30 || !PLAIN[mark].test(text)) return null;
  return Number(text.replace(mark === '.' ? /[, ]/g : /[. ]/g, '').replace(',', '.'));
}

function roughValue(text: string, mark: DecimalMark): { value: number; rough: boolean } | null {
  let rest = text;
  let rough = false;
  for (const pattern of [ABOUT, AT_LEAST, AT_MOST, ABOUT, UNIT, AFTER, UNIT]) {
    const without = rest.replace(pattern, '');
    if (without !== rest && pattern !== UNIT) rough = true;
    rest = without;
  }
  const dozens = /^(?:a |(\d+) )?dozen$/.exec(rest);
  if (dozens) return { value: 12 * Number(dozens[1] ?? 1), rough: true };
  const plain = plainNumber(rest, mark);
  if (plain !== null) return { value: plain, rough };
  if (/^(?:none|nil|zero|no)$/.test(rest)) return { value: 0, rough };
  const range = RANGE.exec(rest);
  const lower = range ? plainNumber(range[1]!, mark) : null;
  const upper = range ? plainNumber(range[2]!, mark) : null;
  if (lower === null || upper === null || upper < lower) return null;
  return { value: Math.floor((lower + upper) / 2), rough: true };
}

function short(text: string): string {
  return text.length > 40 ? `${text.slice(0, 40)}…` : text;
}
