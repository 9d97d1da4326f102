import { dayInZone } from '../../shared/zone-day.ts';
import { orderById } from '../orders/queries.ts';
import type { Business } from '../plumbing/call.ts';
import type { Clock } from '../plumbing/clock.ts';
import type { Db } from '../plumbing/open-database.ts';
import { printSheetsOfOrder, sheetsOfOrder } from './sheets-of-order.ts';

/** The care sheets of an order as a file to go along with a mail; none where no sheet can be made. */
export async function encloseCareSheets(
  { db, clock, business }: { db: Db; clock: Clock; business: Business },
  orderId: number,
): Promise<{ fileName: string; bytes: Buffer }[]> {
  const loaded = orderById(db, orderId);
  const today = dayInZone(clock.now(), business.timeZone);
  const printed = await printSheetsOfOrder(
    { business, today, clock },
    loaded,
    sheetsOfOrder(db, loaded, { today }),
  );
  if (!printed) return [];
  return [{ fileName: `care-sheets-${loaded.order.number}.pdf`, bytes: printed.pdf }];
}
