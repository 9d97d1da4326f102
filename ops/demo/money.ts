import { asc, inArray } from 'drizzle-orm';
import { invoicesOfOrder } from '../../server/invoices/queries.ts';
import {
  insertRate,
  listWays,
  readInvoicing,
  saveInvoicing,
} from '../../server/invoices/queries-invoicing.ts';
import { insertPayment } from '../../server/invoices/queries-payments.ts';
import { writeInvoice } from '../../server/invoices/write.ts';
import { loadOrder } from '../../server/orders/queries.ts';
import type { Db } from '../../server/plumbing/open-database.ts';
import { orders } from '../../server/schema/tables.ts';
import { readBusiness } from '../../server/settings/queries.ts';
import { addDays } from '../../shared/days.ts';
import { noonOf } from './write-story.ts';

/** A tax, and invoices for what has left or stands packed: one paid, one in part, one open. All invented. */
export function writeMoney(tx: Db, today: string, personId: string) {
  const first = noonOf(addDays(today, -90));
  saveInvoicing(tx, {
    ...readInvoicing(tx),
    prefix: 'LW-',
    taxNumber: 'invented',
    payWords: 'Bank transfer.',
  });
  insertRate(
    tx,
    {
      name: 'VAT',
      rateThousandths: 20_000,
      mode: 'included',
      onGoods: true,
      onCarriage: true,
      fromOn: addDays(today, -365),
      untilOn: null,
    },
    first,
  );
  const wayId = listWays(tx)[0]?.id;
  const left = tx
    .select({ number: orders.number })
    .from(orders)
    .where(inArray(orders.state, ['closed', 'sent', 'packed']))
    .orderBy(asc(orders.number))
    .all();
  const business = readBusiness(tx);
  for (const [i, { number }] of left.entries()) {
    const loaded = loadOrder(tx, number);
    const { dispatchOn, id: orderId } = loaded.order;
    const on = dispatchOn !== null && dispatchOn < today ? dispatchOn : today;
    writeInvoice(tx, loaded, on, { business, today: on, personId, now: noonOf(on) });
    const [invoice] = invoicesOfOrder(tx, orderId);
    const share = [1, 0.5][i];
    if (!invoice || wayId === undefined || share === undefined) continue;
    const amountMinor = Math.round(invoice.totalMinor * share);
    const by = { madeBy: personId, madeAt: noonOf(on) };
    insertPayment(tx, { orderId, kind: 'payment', amountMinor, wayId, paidOn: on, note: '', ...by });
  }
}
