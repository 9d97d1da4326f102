import type { ArrivalPartProps } from '../../views/arrivals/part-of-order.tsx';
import type { Order } from '../orders/queries.ts';
import type { Db } from '../plumbing/open-database.ts';
import { amendsOf } from './queries-amends.ts';
import { addressOfOrder, linkOf } from './queries-links.ts';
import { reportsOf } from './queries-reports.ts';

/** What the owner's page of an order shows of its customer's page: the address, what was said there, what was done. */
export function arrivalOfOrder(
  db: Db,
  { id, number, state, currency }: Order,
  { base, now }: { base: string; now: number },
): Omit<ArrivalPartProps, 'furniture' | 'timeZone'> {
  return {
    order: { number, state, currency },
    address: addressOfOrder(db, id, { base, now }),
    expiresAt: linkOf(db, id)?.expiresAt ?? null,
    reports: reportsOf(db, id),
    amends: amendsOf(db, id),
  };
}
