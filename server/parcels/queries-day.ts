import { and, asc, eq, inArray } from 'drizzle-orm';
import type { Db } from '../plumbing/open-database.ts';
import { customers, orderLines, orderParcels, orders, species } from '../schema/tables.ts';

/** So many orders are worked out on one page at most. */
export const mostOrders = 200;

const columns = {
  id: orders.id,
  number: orders.number,
  state: orders.state,
  version: orders.version,
  dispatchOn: orders.dispatchOn,
  customerId: customers.id,
  customerName: customers.name,
  email: customers.email,
  country: customers.country,
  postcode: customers.postcode,
  city: customers.city,
  placeId: orderParcels.placeId,
  carrierId: orderParcels.carrierId,
  notBefore: orderParcels.notBefore,
};

const joined = (db: Db) =>
  db
    .select(columns)
    .from(orders)
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .leftJoin(orderParcels, eq(orderParcels.orderId, orders.id));

/** An order as a parcel: where it goes, and what is particular to it. */
export type ParcelOrder = NonNullable<ReturnType<typeof parcelOrder>>;

/** The order of that number as a parcel. */
export const parcelOrder = (db: Db, number: number) => joined(db).where(eq(orders.number, number)).get();

/** Orders that wait to be packed, those written down first in front. */
export const ordersToPack = (db: Db): ParcelOrder[] =>
  joined(db).where(eq(orders.state, 'confirmed')).orderBy(asc(orders.number)).limit(mostOrders).all();

/** What is in each parcel, with what its species bear. */
export function speciesInParcels(db: Db, orderIds: readonly number[]) {
  return db
    .select({
      orderId: orderLines.orderId,
      speciesId: species.id,
      groups: orderLines.groups,
      groupAdults: orderLines.groupAdults,
      groupJuveniles: orderLines.groupJuveniles,
      groupExtras: orderLines.groupExtras,
      scientificName: species.scientificName,
      commonName: species.commonName,
      animalGroup: species.animalGroup,
      lethalLowC: species.lethalLowC,
      safeLowC: species.safeLowC,
      safeHighC: species.safeHighC,
      lethalHighC: species.lethalHighC,
    })
    .from(orderLines)
    .innerJoin(species, eq(species.id, orderLines.speciesId))
    .where(and(inArray(orderLines.orderId, [...orderIds]), eq(orderLines.withdrawn, false)))
    .orderBy(orderLines.orderId, orderLines.position)
    .all();
}
export type SpeciesInParcel = ReturnType<typeof speciesInParcels>[number];
