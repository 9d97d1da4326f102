import type { Settlement } from '../../shared/invoices/settlement.ts';
import { writeRate } from '../../shared/invoices/tax.ts';

/** What is left of a debt, and what that is called. */
export function settledWords({ openMinor, overMinor }: Settlement): { term: string; minor: number } {
  return overMinor > 0 ? { term: 'Paid too much', minor: overMinor } : { term: 'Open', minor: openMinor };
}

export const isOverdue = (
  { dueOn, openMinor }: { dueOn: string | null; openMinor: number | null },
  today: string,
): boolean => dueOn !== null && dueOn < today && (openMinor ?? 0) > 0;

/** 'VAT 19 %, in the prices' */
export const taxWords = (tax: {
  name: string;
  rateThousandths: number;
  mode: 'included' | 'added';
}): string =>
  `${tax.name} ${writeRate(tax.rateThousandths)}\u00a0%, ${tax.mode === 'included' ? 'in the prices' : 'added'}`;

/** Said on every page where taxes or keeping are decided. */
export const lawDecides =
  'Rules on tax, invoices and records differ from place to place. This page keeps what you set; your law and your tax adviser decide what that has to be.';
