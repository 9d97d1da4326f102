import { dayInZone } from '../../shared/zone-day.ts';
import { addressOfOrder } from '../arrivals/queries-links.ts';
import type { Config } from '../config.ts';
import { orderById } from '../orders/queries.ts';
import type { Business } from '../plumbing/call.ts';
import type { Clock } from '../plumbing/clock.ts';
import type { Db } from '../plumbing/open-database.ts';
import { ownAddress } from '../plumbing/own-address.ts';
import { printSheetsOfOrder, sheetsOfOrder } from './sheets-of-order.ts';

export type Enclosing = {
  db: Db;
  clock: Clock;
  business: Business;
  config: Pick<Config, 'baseUrl' | 'host' | 'port'>;
};

/**
 * The care sheets of an order as a file to go along with a mail, the code of the customer's page on the card in front;
 * none where no sheet can be made.
 */
export async function encloseCareSheets(
  { db, clock, business, config }: Enclosing,
  orderId: number,
): Promise<{ fileName: string; bytes: Buffer }[]> {
  const loaded = orderById(db, orderId);
  const today = dayInZone(clock.now(), business.timeZone);
  const printed = await printSheetsOfOrder(
    { business, today, clock },
    loaded,
    sheetsOfOrder(db, loaded, { today }),
    addressOfOrder(db, orderId, { base: ownAddress(config), now: clock.now() }),
  );
  if (!printed) return [];
  return [{ fileName: `care-sheets-${loaded.order.number}.pdf`, bytes: printed.pdf }];
}
