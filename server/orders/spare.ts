import { animalsPerGroup, groupsToSpare, isSameMakeUp, type MakeUp } from '../../shared/orders/make-up.ts';
import { formatCount } from '../../views/layout/format.ts';
import type { OrderLine } from './queries.ts';
import { type StockRow, stockOf } from './queries-stock.ts';

export const ownMakeUp = (line: OrderLine): MakeUp => ({
  groupAdults: line.ownAdults,
  groupJuveniles: line.ownJuveniles,
  groupExtras: line.ownExtras,
});

/** Whether the calculation that spares whole groups has looked at groups such as the line's. */
export const isOwnMakeUp = (line: OrderLine): boolean => isSameMakeUp(line, ownMakeUp(line));

/** How many groups of a line a culture can spare now. */
export const spareFor = (line: OrderLine, row: StockRow): number =>
  groupsToSpare(stockOf(row), line, ownMakeUp(line));

/** Says how many groups a culture can still spare, and how many were asked for. */
export function notSpareWords(line: OrderLine, row: StockRow, asked: number): string {
  const spare = spareFor(line, row);
  const wish = `${formatCount(asked, 'group')} of ${animalsPerGroup(line)} ${asked === 1 ? 'was' : 'were'} asked for.`;
  if (spare > 0) return `${row.code} can spare ${formatCount(spare, 'group')} now; ${wish}`;
  const animals = Math.max(0, row.promisable - row.promised);
  if (animals === 0) return `${row.code} has nothing to spare now; ${wish}`;
  return `${row.code} can spare ${formatCount(animals, 'animal')} now, not a whole group; ${wish}`;
}

/**
 * Why groups may not be promised from a culture, or null when they may. The database asks the same of the number of
 * animals once more when the promise is written; only here the adults are looked at too.
 */
export function whyNotSpare(line: OrderLine, row: StockRow, asked: number): string | null {
  return asked > spareFor(line, row) ? notSpareWords(line, row, asked) : null;
}
