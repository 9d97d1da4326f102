import type { CurrentAllocation } from './queries-allocations.ts';
import type { StockRow } from './queries-stock.ts';

type Standing = Pick<StockRow, 'code' | 'lineId' | 'line'>;

/** A culture without a line is a line of its own. */
const sameLine = (one: Standing, other: Standing) =>
  one.lineId === null ? one.code === other.code : one.lineId === other.lineId;

function whyTwo(one: Standing, other: Standing): string | null {
  if (!sameLine(one, other)) return null;
  if (one.code === other.code) return `${one.code} has given it a group already`;
  return `${one.code} and ${other.code} are both of line ${one.line}`;
}

/**
 * Why groups of a culture are no unrelated start beside those that fill a line of an order already; null when they are.
 */
export function whyRelated(row: Standing, groups: number, beside: readonly Standing[]): string | null {
  const wayOut =
    'Take each group from a different line of cultures, or untick “Unrelated starts” on the order.';
  if (groups > 1) return `This asks for unrelated starts, and ${row.code} is of one line. ${wayOut}`;
  const why = beside.map((other) => whyTwo(row, other)).find(Boolean);
  return why ? `This asks for unrelated starts: ${why}. ${wayOut}` : null;
}

/** The same of all that fills a line already, in a sentence. */
export function whyAllRelated(
  rows: readonly Standing[],
  allocations: readonly CurrentAllocation[],
  lineId: number,
): string | null {
  for (const [i, row] of rows.entries()) {
    const own = allocations.filter((one) => one.lineId === lineId && one.code === row.code);
    const groups = own.reduce((sum, one) => sum + one.groups, 0);
    if (groups > 1) return `${groups} groups of ${row.code} are reserved on this line.`;
    const other = rows.slice(0, i).find((one) => sameLine(row, one));
    if (other)
      return `Groups of ${other.code} and ${row.code}, both of line ${row.line}, are reserved on this line.`;
  }
  return null;
}
