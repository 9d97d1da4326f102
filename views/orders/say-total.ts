import { formatMoney } from '../layout/format.ts';

/** An order whose total is reckoned through. */
export type TotalledOrder = {
  number: number;
  lines: readonly { groups: number; priceMinor: number }[];
  postageMinor: number;
  totalMinor: number;
  currency: string;
};

/** "For example order 3: 2 × €12.50 + €5.00 postage = €30.00." */
export function sayTotal(order: TotalledOrder | null, locale?: string): string[] {
  if (!order) return [];
  const money = (minor: number) => formatMoney(minor, order.currency, locale);
  const parts = order.lines.map(({ groups, priceMinor }) => `${groups} × ${money(priceMinor)}`);
  const sum = [...parts, `${money(order.postageMinor)} postage`].join(' + ');
  return [`For example order ${order.number}: ${sum} = ${money(order.totalMinor)}.`];
}
