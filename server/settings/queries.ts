import { eq } from 'drizzle-orm';
import type { Business } from '../plumbing/call.ts';
import type { Db } from '../plumbing/open-database.ts';
import { business, people } from '../schema/tables.ts';

/** What stands before the set-up page was filled in: enough to show that page. */
const notSetUp: Business = {
  id: 1,
  name: 'Broodbench',
  address: '',
  email: '',
  country: 'GB',
  timeZone: 'UTC',
  currency: 'EUR',
  locale: 'en-GB',
  units: 'metric',
  paper: 'A4',
  language: 'en',
  madeAt: 0,
};

export function readBusiness(db: Db): Business {
  return db.select().from(business).where(eq(business.id, 1)).get() ?? notSetUp;
}

/** For pages that must come even when the database does not: they know no business then. */
export function businessIfReadable(db: Db): Business {
  try {
    return readBusiness(db);
  } catch {
    return notSetUp;
  }
}

/** Set up means: there is a business and somebody who owns it. */
export function isSetUp(db: Db): boolean {
  const owner = db.select({ id: people.id }).from(people).where(eq(people.role, 'owner')).limit(1).get();
  return owner !== undefined && db.select({ id: business.id }).from(business).get() !== undefined;
}

export function saveBusiness(db: Db, values: Omit<Business, 'id' | 'madeAt'>, now: number) {
  db.insert(business)
    .values({ ...values, id: 1, madeAt: now })
    .onConflictDoUpdate({ target: business.id, set: values })
    .run();
}
