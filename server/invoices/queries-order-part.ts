import type { Settlement } from '../../shared/invoices/settlement.ts';
import type { MoneyPartProps } from '../../views/invoices/part-of-order.tsx';
import { amendsOf } from '../arrivals/queries-amends.ts';
import type { LoadedOrder } from '../orders/queries.ts';
import type { Business } from '../plumbing/call.ts';
import type { Db } from '../plumbing/open-database.ts';
import { type Invoice, invoicesOfOrder, linesOfInvoice, standingInvoice } from './queries.ts';
import { draftOf, likelySupplyDay } from './queries-draft.ts';
import { paymentsOf, settlementOf } from './queries-payments.ts';

type Here = { business: Business; today: string };

export type Money = {
  invoices: Invoice[];
  standing: Invoice | null;
  /** By its invoices, or what an invoice would come to now. */
  owedMinor: number;
  settlement: Settlement;
};

/** What an order's customer owes and has paid. */
export function moneyOf(db: Db, loaded: LoadedOrder, { business, today }: Here): Money {
  const { order } = loaded;
  const all = invoicesOfOrder(db, order.id);
  const suppliedOn = likelySupplyDay(loaded, today);
  const isOff = order.state === 'cancelled';
  const owedMinor =
    all.length > 0
      ? all.reduce((sum, one) => sum + one.totalMinor, 0)
      : isOff
        ? 0
        : draftOf(db, loaded, { business, suppliedOn }).totalMinor;
  return {
    invoices: all,
    standing: standingInvoice(all),
    owedMinor,
    settlement: settlementOf(db, order.id, owedMinor),
  };
}

/** Why an invoice that stands no longer fits its order; null where it does. */
function misfitOf(db: Db, loaded: LoadedOrder, standing: Invoice, here: Here): MoneyPartProps['misfit'] {
  const { state } = loaded.order;
  if (state === 'cancelled' || state === 'draft') return state;
  const { suppliedOn } = standing;
  const now = draftOf(db, loaded, { business: here.business, suppliedOn });
  const sum = (lines: readonly { totalMinor: number }[]) =>
    lines.reduce((all, line) => all + line.totalMinor, 0);
  return sum(now.lines) === sum(linesOfInvoice(db, standing.id)) ? null : 'changed';
}

/** Money of an order, as its page shows it: invoices, payments, what is open, and what wants doing. */
export function moneyPartOf(db: Db, loaded: LoadedOrder, here: Here): Omit<MoneyPartProps, 'furniture'> {
  const { order } = loaded;
  const { invoices, standing, owedMinor, settlement } = moneyOf(db, loaded, here);
  const noted = new Set(invoices.map(({ amendsId }) => amendsId));
  const unnoted = standing
    ? amendsOf(db, order.id).filter((one) => one.amountMinor !== null && !noted.has(one.id))
    : [];
  return {
    order: { number: order.number, currency: order.currency, state: order.state },
    invoices,
    standingId: standing?.id ?? null,
    payments: paymentsOf(db, order.id),
    owedMinor,
    settlement,
    misfit: standing ? misfitOf(db, loaded, standing, here) : null,
    toCredit: unnoted.map(({ id, kind, amountMinor }) => ({ id, kind, amountMinor: amountMinor ?? 0 })),
    today: here.today,
  };
}
