import { isDay } from '../days.ts';
import { minorDigits } from '../settings/typed-money.ts';
import { writeRate } from './tax.ts';

/** One row of the ledger: a line or a tax of an invoice or credit note, or a payment. Amounts in minor units. */
export type LedgerRow = {
  on: string;
  row: 'line' | 'tax' | 'payment' | 'refund';
  /** The number of the invoice or credit note; empty for a payment. */
  document: string;
  /** The invoice that a credit note takes back. */
  credits: string;
  order: number;
  customer: string;
  country: string;
  what: string;
  onWhat: 'animals' | 'postage' | 'animals and postage' | '';
  quantity: number | null;
  rateThousandths: number | null;
  mode: 'included' | 'added' | null;
  baseMinor: number | null;
  amountMinor: number;
  currency: string;
  way: string;
  note: string;
};

/** Columns of the ledger, each with what it holds. */
export const ledgerColumns = [
  ['Day', 'of the invoice, the credit note or the payment, YYYY-MM-DD'],
  ['Row', 'line, tax, payment or refund'],
  ['Document', 'number of the invoice or credit note'],
  ['Credits', 'number of the invoice that a credit note takes back'],
  ['Order', 'number of the order'],
  ['Customer', 'as it stands on the document'],
  ['Country', 'two letters, ISO 3166'],
  ['What', 'what is charged, or the name of the tax'],
  ['On', 'animals or postage'],
  ['Quantity', 'groups'],
  ['Rate', 'of a tax, in percent'],
  ['Mode', 'included: the lines hold this tax; added: it comes on top of them'],
  ['Base', 'what a tax is worked out from'],
  ['Amount', 'below zero on credit notes and for money that went back'],
  ['Currency', 'three letters, ISO 4217'],
  ['Way', 'how it was paid'],
  ['Note', 'beside a payment'],
] as const;

/**
 * An amount as a plain decimal, with a point and no thousands mark, below zero too.
 *
 * @example plainMoney(-1250, 2) // '-12.50'
 */
function plainMoney(minor: number, digits: number): string {
  if (!Number.isSafeInteger(minor)) throw new RangeError(`not an amount in whole minor units: ${minor}`);
  const figures = String(Math.abs(minor)).padStart(digits + 1, '0');
  const whole = figures.slice(0, figures.length - digits);
  const decimal = digits === 0 ? whole : `${whole}.${figures.slice(figures.length - digits)}`;
  return minor < 0 ? `-${decimal}` : decimal;
}

/** A row as its cells, in the order of `ledgerColumns`. Documented amounts: lines and added taxes make an invoice's total. */
export function ledgerCells(row: LedgerRow): (string | number | null)[] {
  const money = (minor: number | null) =>
    minor === null ? null : plainMoney(minor, minorDigits(row.currency));
  return [
    row.on,
    row.row,
    row.document,
    row.credits,
    row.order,
    row.customer,
    row.country,
    row.what,
    row.onWhat,
    row.quantity,
    row.rateThousandths === null ? null : writeRate(row.rateThousandths),
    row.mode,
    money(row.baseMinor),
    money(row.amountMinor),
    row.currency,
    row.way,
    row.note,
  ];
}

export type Period = { from: string; to: string };

/**
 * The days of a period as they were typed; which one is no day, or why the two do not go together.
 *
 * @example readPeriod('2026-01-01', '2026-12-31') // { from: '2026-01-01', to: '2026-12-31' }
 */
export function readPeriod(from: string, to: string): Period | { errors: Record<string, string> } {
  const notADay = 'Write a day of the calendar, such as 2026-11-30.';
  if (!isDay(from)) return { errors: { from: notADay } };
  if (!isDay(to)) return { errors: { to: notADay } };
  return to < from ? { errors: { to: 'Write a day that is not before the first one.' } } : { from, to };
}
