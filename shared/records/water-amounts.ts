import type { Findings } from './findings.ts';
import { type DecimalMark, readNumber } from './rough-numbers.ts';

// Kitchen measures of the United States, rounded (NIST Handbook 44, appendix C: 1 teaspoon is 4.93 ml).
const ML: Record<string, number> = {
  ml: 1,
  cl: 10,
  dl: 100,
  l: 1000,
  tsp: 4.93,
  tbsp: 14.79,
  'fl oz': 29.57,
  oz: 29.57,
};
const MOST_ML = 10_000;

/**
 * An amount of water in millilitres; a number alone is millilitres. null with a fault where it is none.
 *
 * @example readWaterMl('0.5 l', context, findings) // 500
 */
export function readWaterMl(
  cell: string,
  context: { mark: DecimalMark; numberColumn: string | null },
  findings: Findings,
): number | null {
  const column = context.numberColumn;
  if (cell === '') {
    return findings.fault(
      'number-missing',
      'The amount of water is not told.',
      column,
      'Write it, or set an amount for all such rows.',
    );
  }
  const match = /^(.{1,40}?)\s?(ml|cl|dl|l|tsp|tbsp|fl oz|oz)?\.?$/i.exec(cell.trim());
  const read = readNumber(match?.[1] ?? cell, context.mark);
  if ('fault' in read) {
    const kind = read.fault === 'number-negative' ? 'number-negative' : 'unit-not-understood';
    return findings.fault(kind, read.reason, column);
  }
  const waterMl = Math.round(read.value * ML[(match?.[2] ?? 'ml').toLowerCase()]! * 100) / 100;
  if (waterMl === 0) return findings.fault('number-zero', 'No water was given.', column);
  if (waterMl > MOST_ML) {
    return findings.fault(
      'number-too-large',
      `${waterMl} ml is more than ten litres.`,
      column,
      'Write the amount that was meant.',
    );
  }
  return waterMl;
}
