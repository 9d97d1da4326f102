// Run by killed.test.ts in a process of its own: writes invoices into the database that is named, one after the other,
// and says each number once it is written, until it is killed.

import { writeInvoice } from '../../server/invoices/write.ts';
import { orderById } from '../../server/orders/queries.ts';
import { openDatabase } from '../../server/plumbing/open-database.ts';
import { orders } from '../../server/schema/tables.ts';
import { readBusiness } from '../../server/settings/queries.ts';

const { db } = openDatabase(process.argv[2] ?? '');
const business = readBusiness(db);
for (const { id } of db.select({ id: orders.id }).from(orders).all()) {
  const by = { business, today: '2026-11-25', personId: 'person-owner', now: 1 };
  const number = db.transaction((tx) => writeInvoice(tx, orderById(tx, id), '2026-11-25', by));
  process.stdout.write(`${number}\n`);
}
