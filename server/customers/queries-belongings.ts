import { eq, inArray, or, sql } from 'drizzle-orm';
import type { Db } from '../plumbing/open-database.ts';
import * as t from '../schema/tables.ts';

/** What belongs to one customer: ids by which their rows are found. */
export type Belongings = {
  customerId: number;
  orderIds: number[];
  orderNumbers: number[];
  lineIds: number[];
  reportIds: number[];
  photoIds: number[];
  invoiceIds: number[];
  /** What they asked for from the public list, also where no order came of it. */
  requestIds: number[];
};

const idsOf = (rows: { id: number }[]) => rows.map(({ id }) => id);

/** Requests that led to their orders, and others from the same mail address. */
function requestsOf(db: Db, customerId: number, orderIds: number[]): number[] {
  const { customers, orderRequests } = t;
  const email = db
    .select({ email: customers.email })
    .from(customers)
    .where(eq(customers.id, customerId))
    .get()?.email;
  const same = email ? sql`lower(${orderRequests.email}) = ${email.toLowerCase()}` : undefined;
  return idsOf(
    db
      .select({ id: orderRequests.id })
      .from(orderRequests)
      .where(or(inArray(orderRequests.orderId, orderIds), same))
      .all(),
  );
}

export function belongingsOf(db: Db, customerId: number): Belongings {
  const orders = db
    .select({ id: t.orders.id, number: t.orders.number })
    .from(t.orders)
    .where(eq(t.orders.customerId, customerId))
    .all();
  const orderIds = idsOf(orders);
  const { orderLines, arrivalReports, arrivalPhotos, invoices } = t;
  const lines = db
    .select({ id: orderLines.id })
    .from(orderLines)
    .where(inArray(orderLines.orderId, orderIds))
    .all();
  const reports = db
    .select({ id: arrivalReports.id })
    .from(arrivalReports)
    .where(inArray(arrivalReports.orderId, orderIds))
    .all();
  const reportIds = idsOf(reports);
  const photos = db
    .select({ id: arrivalPhotos.id })
    .from(arrivalPhotos)
    .where(inArray(arrivalPhotos.reportId, reportIds))
    .all();
  const written = db
    .select({ id: invoices.id })
    .from(invoices)
    .where(inArray(invoices.orderId, orderIds))
    .all();
  return {
    customerId,
    orderIds,
    orderNumbers: orders.map(({ number }) => number),
    lineIds: idsOf(lines),
    reportIds,
    photoIds: idsOf(photos),
    invoiceIds: idsOf(written),
    requestIds: requestsOf(db, customerId, orderIds),
  };
}
