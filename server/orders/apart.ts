import { apartRules } from '../lines/queries-apart.ts';
import type { Db } from '../plumbing/open-database.ts';
import type { CurrentAllocation } from './queries-allocations.ts';
import { type StockRow, stockOfCultures } from './queries-stock.ts';

type Standing = Pick<StockRow, 'code' | 'lineId'>;

/**
 * Answers, for one line of an order, why a culture must not fill it beside those that fill it already: what a customer
 * gets on one line is put together. Null when it may.
 */
export type WhyApart = (row: Standing, beside: readonly Standing[]) => string | null;

export function whyApartIn(db: Db, speciesId: number): WhyApart {
  const why = apartRules(db, speciesId);
  return (row, beside) => {
    for (const other of beside) {
      const never = other.code === row.code ? null : why(row.lineId, other.lineId);
      if (never) return `${row.code} must not come together with ${other.code}: ${never}.`;
    }
    return null;
  };
}

/** The cultures that fill a line of an order already. */
export function fillingLine(db: Db, allocations: readonly CurrentAllocation[], lineId: number): StockRow[] {
  const ids = allocations.filter((one) => one.lineId === lineId).map(({ cultureId }) => cultureId);
  return [...stockOfCultures(db, [...new Set(ids)]).values()];
}
