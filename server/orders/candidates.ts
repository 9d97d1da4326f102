import { daysBetween } from '../../shared/days.ts';
import { effectiveSize } from '../../shared/lines/effective-size.ts';
import { effectiveFloor, isClonal } from '../../shared/lines/page-start.ts';
import { animalsPerGroup } from '../../shared/orders/make-up.ts';
import type { Candidate } from '../../views/orders/candidates.tsx';
import type { WhyApart } from './apart.ts';
import type { OrderLine } from './queries.ts';
import type { StockRow } from './queries-stock.ts';
import { spareFor } from './spare.ts';
import { whyRelated } from './unrelated.ts';

export const isAble = (row: Candidate) => row.spareGroups > 0 && row.apart === null;

/** The effective size that is left without so many animals, where that is small; a sale never waits for it. */
export function smallEffective(animals: number, row: StockRow): number | null {
  const { median, femaleShare, effectiveRatio } = row;
  const mating = { femaleShare, neRatio: effectiveRatio };
  if (median === null || isClonal(mating)) return null;
  const left = effectiveSize(Math.max(0, median - animals), mating);
  return left < effectiveFloor ? left : null;
}

/** Why a culture must not fill a line beside what fills it already; null when it may. */
export const whyNotBeside = (line: OrderLine, row: StockRow, beside: readonly StockRow[], apart: WhyApart) =>
  apart(row, beside) ?? (line.separateLines ? whyRelated(row, 1, beside) : null);

type Asked = { today: string; chosen: string | null; why: (row: StockRow) => string | null };

/** A culture as the forms that reserve show it beside a line of an order. */
export function candidate(line: OrderLine, row: StockRow, { today, chosen, why }: Asked): Candidate {
  return {
    ...row,
    countedDaysAgo: row.lastCountOn === null ? null : Math.max(0, daysBetween(row.lastCountOn, today)),
    spareGroups: spareFor(line, row),
    spareAnimals: Math.max(0, row.promisable - row.promised),
    smallEffective: smallEffective(animalsPerGroup(line), row),
    apart: why(row),
    chosen: chosen !== null && row.code.toLowerCase() === chosen.toLowerCase(),
    leaves: null,
  };
}
