import { and, asc, eq, isNull } from 'drizzle-orm';
import type { CarrierValues } from '../../shared/parcels/carrier-form.ts';
import { type HabitValues, usualHabits } from '../../shared/parcels/habits-form.ts';
import type { Db } from '../plumbing/open-database.ts';
import { carriers, orderParcels, parcelHabits, weatherAreas, weatherPlaces } from '../schema/tables.ts';

export type Carrier = typeof carriers.$inferSelect;
export type OrderParcel = typeof orderParcels.$inferSelect;
export type WeatherArea = typeof weatherAreas.$inferSelect;

const byName = new Intl.Collator('en', { numeric: true });

/** All carriers by name, those no longer used last. */
export const listCarriers = (db: Db): Carrier[] =>
  db
    .select()
    .from(carriers)
    .all()
    .sort(
      (a, b) => Number(a.retiredAt !== null) - Number(b.retiredAt !== null) || byName.compare(a.name, b.name),
    );
export const readCarrier = (db: Db, id: number): Carrier | undefined =>
  db.select().from(carriers).where(eq(carriers.id, id)).get();
export const carrierNamed = (db: Db, name: string): Carrier | undefined =>
  db.select().from(carriers).where(eq(carriers.name, name)).get();
export const insertCarrier = (tx: Db, values: CarrierValues, madeAt: number): number =>
  tx
    .insert(carriers)
    .values({ ...values, madeAt })
    .returning({ id: carriers.id })
    .get().id;
export function updateCarrier(tx: Db, id: number, values: CarrierValues): void {
  tx.update(carriers).set(values).where(eq(carriers.id, id)).run();
}
export function setCarrierRetired(tx: Db, id: number, retiredAt: number | null): void {
  tx.update(carriers).set({ retiredAt }).where(eq(carriers.id, id)).run();
}

/** How parcels are packed, until the owner says otherwise. */
export function readParcelHabits(db: Db): HabitValues {
  const row = db.select().from(parcelHabits).get();
  if (!row) return usualHabits;
  const { id: _, ...values } = row;
  return values;
}
export function saveParcelHabits(tx: Db, values: HabitValues): void {
  tx.insert(parcelHabits)
    .values({ id: 1, ...values })
    .onConflictDoUpdate({ target: parcelHabits.id, set: values })
    .run();
}

export const listAreas = (db: Db) =>
  db
    .select({
      id: weatherAreas.id,
      placeId: weatherAreas.placeId,
      country: weatherAreas.country,
      postcodeStart: weatherAreas.postcodeStart,
      placeName: weatherPlaces.name,
    })
    .from(weatherAreas)
    .innerJoin(weatherPlaces, eq(weatherPlaces.id, weatherAreas.placeId))
    .orderBy(asc(weatherAreas.country), asc(weatherAreas.postcodeStart))
    .all();

/** An area has one place: written again it has the other. */
export function saveArea(tx: Db, values: Omit<WeatherArea, 'id'>): void {
  tx.insert(weatherAreas)
    .values(values)
    .onConflictDoUpdate({
      target: [weatherAreas.country, weatherAreas.postcodeStart],
      set: { placeId: values.placeId, madeAt: values.madeAt },
    })
    .run();
}
/** The area that begins just so. */
export const areaThere = (
  db: Db,
  { country, postcodeStart }: Pick<WeatherArea, 'country' | 'postcodeStart'>,
): WeatherArea | undefined =>
  db
    .select()
    .from(weatherAreas)
    .where(and(eq(weatherAreas.country, country), eq(weatherAreas.postcodeStart, postcodeStart)))
    .get();
export const readArea = (db: Db, id: number): WeatherArea | undefined =>
  db.select().from(weatherAreas).where(eq(weatherAreas.id, id)).get();
export function takeOutArea(tx: Db, id: number): void {
  tx.delete(weatherAreas).where(eq(weatherAreas.id, id)).run();
}

export const orderParcelOf = (db: Db, orderId: number): OrderParcel | undefined =>
  db.select().from(orderParcels).where(eq(orderParcels.orderId, orderId)).get();

/** Changes what is particular to an order's parcel; what is not named stays. */
export function saveOrderParcel(
  tx: Db,
  orderId: number,
  values: Partial<Pick<OrderParcel, 'placeId' | 'carrierId' | 'notBefore'>>,
  by: { personId: string | null; now: number },
): void {
  const made = { madeBy: by.personId, madeAt: by.now };
  tx.insert(orderParcels)
    .values({ orderId, ...values, ...made })
    .onConflictDoUpdate({ target: orderParcels.orderId, set: { ...values, ...made } })
    .run();
}

export const openPlaces = (db: Db) =>
  db
    .select({ id: weatherPlaces.id, name: weatherPlaces.name, part: weatherPlaces.part })
    .from(weatherPlaces)
    .where(isNull(weatherPlaces.retiredAt))
    .orderBy(asc(weatherPlaces.name))
    .all();
