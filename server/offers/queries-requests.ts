import { and, asc, count, desc, eq, gt, isNull, ne, or, sql } from 'drizzle-orm';
import type { OrderRequest } from '../../shared/offers/request-form.ts';
import type { Language } from '../../shared/settings/languages.ts';
import type { Db } from '../plumbing/open-database.ts';
import { customers, orderRequestLines, orderRequests, orders, species } from '../schema/tables.ts';

export type RequestRow = typeof orderRequests.$inferSelect;

/** Of all strangers together: so many an hour, and so many that nobody has answered yet. */
export const requestLimits = { anHour: 40, waiting: 200 } as const;
const hourMs = 3_600_000;

export const waitingRequests = (db: Db): number =>
  db.select({ n: count() }).from(orderRequests).where(eq(orderRequests.state, 'new')).get()?.n ?? 0;

function isFull(db: Db, now: number): boolean {
  const recent = db
    .select({ n: count() })
    .from(orderRequests)
    .where(gt(orderRequests.madeAt, now - hourMs))
    .get();
  return (recent?.n ?? 0) >= requestLimits.anHour || waitingRequests(db) >= requestLimits.waiting;
}

export type Asked = {
  formKey: string;
  request: OrderRequest;
  language: Language;
  currency: string;
  /** Prices by species, as the list showed them. */
  prices: ReadonlyMap<number, number>;
  now: number;
};

/**
 * Keeps a request; the same form sent again keeps nothing more. Nothing is reserved by it. Call it inside a transaction.
 */
export function keepRequest(tx: Db, asked: Asked): 'kept' | 'again' | 'full' {
  const { formKey, request, language, currency, prices, now } = asked;
  const same = tx
    .select({ id: orderRequests.id })
    .from(orderRequests)
    .where(eq(orderRequests.formKey, formKey))
    .get();
  if (same) return 'again';
  if (isFull(tx, now)) return 'full';
  const { wanted, ...person } = request;
  const { id } = tx
    .insert(orderRequests)
    .values({ ...person, formKey, language, currency, state: 'new', madeAt: now })
    .returning({ id: orderRequests.id })
    .get();
  for (const { speciesId, groups } of wanted) {
    const priceMinor = prices.get(speciesId) ?? 0;
    tx.insert(orderRequestLines).values({ requestId: id, speciesId, groups, priceMinor }).run();
  }
  return 'kept';
}

export const readRequestRow = (db: Db, id: number): RequestRow | undefined =>
  db.select().from(orderRequests).where(eq(orderRequests.id, id)).get();

export function linesOfRequest(db: Db, requestId: number) {
  return db
    .select({
      speciesId: orderRequestLines.speciesId,
      groups: orderRequestLines.groups,
      priceMinor: orderRequestLines.priceMinor,
      scientificName: species.scientificName,
      commonName: species.commonName,
      groupAdults: species.groupAdults,
      groupJuveniles: species.groupJuveniles,
      groupExtras: species.groupExtras,
    })
    .from(orderRequestLines)
    .innerJoin(species, eq(species.id, orderRequestLines.speciesId))
    .where(eq(orderRequestLines.requestId, requestId))
    .orderBy(asc(species.scientificName))
    .all();
}

/** Requests, those that wait first, then the newest. */
export function listRequests(db: Db, limit: number) {
  const groups = sql<number>`(SELECT coalesce(sum(groups), 0) FROM order_request_lines WHERE request_id = order_requests.id)`;
  const { id, state, name, country, madeAt } = orderRequests;
  return db
    .select({ id, state, name, country, madeAt, groups, orderNumber: orders.number })
    .from(orderRequests)
    .leftJoin(orders, eq(orders.id, orderRequests.orderId))
    .orderBy(sql`${orderRequests.state} <> 'new'`, desc(orderRequests.id))
    .limit(limit)
    .all();
}

/** Customers who may be the one who wrote: the same address of mail, or the same name in the same country. */
export function customersLike(db: Db, { email, name, country }: RequestRow) {
  const { id, city, postcode } = customers;
  return db
    .select({ id, name: customers.name, email: customers.email, city, postcode })
    .from(customers)
    .where(
      and(
        isNull(customers.retiredAt),
        or(
          and(ne(customers.email, ''), eq(sql`lower(${customers.email})`, email.toLowerCase())),
          and(eq(sql`lower(${customers.name})`, name.toLowerCase()), eq(customers.country, country)),
        ),
      ),
    )
    .orderBy(asc(customers.id))
    .limit(5)
    .all();
}

export function settleRequest(
  tx: Db,
  id: number,
  values: Pick<RequestRow, 'state' | 'orderId' | 'settledBy' | 'settledAt'>,
) {
  tx.update(orderRequests).set(values).where(eq(orderRequests.id, id)).run();
}

const nobody = { name: '', email: '', street: '', postcode: '', city: '', region: '', country: '', note: '' };

/** Takes the person out of one request; what was asked for stays. */
export function forgetRequest(tx: Db, id: number) {
  tx.update(orderRequests).set(nobody).where(eq(orderRequests.id, id)).run();
}
