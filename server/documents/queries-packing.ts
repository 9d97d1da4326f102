import { and, eq, inArray, min, sql } from 'drizzle-orm';
import type { CupValues } from '../../shared/documents/cup-form.ts';
import type {
  GroupPackingValues,
  HabitValues,
  SpeciesPackingValues,
} from '../../shared/documents/packing-form.ts';
import { usualNotes, usualRoomForPackMm } from '../../shared/documents/packing-notes.ts';
import type { AnimalGroup } from '../../shared/species/columns.ts';
import type { Db } from '../plumbing/open-database.ts';
import {
  allocations,
  cultures,
  cups,
  groupPacking,
  orderLines,
  packingHabits,
  places,
  speciesPacking,
} from '../schema/tables.ts';

export type Cup = typeof cups.$inferSelect;
export type GroupPacking = typeof groupPacking.$inferSelect;
export type SpeciesPacking = typeof speciesPacking.$inferSelect;

const byName = new Intl.Collator('en', { numeric: true });

/** All cups by name, those no longer used last. */
export const listCups = (db: Db): Cup[] =>
  db
    .select()
    .from(cups)
    .all()
    .sort(
      (a, b) => Number(a.retiredAt !== null) - Number(b.retiredAt !== null) || byName.compare(a.name, b.name),
    );
export const readCup = (db: Db, id: number): Cup | undefined =>
  db.select().from(cups).where(eq(cups.id, id)).get();
export const cupNamed = (db: Db, name: string): Cup | undefined =>
  db.select().from(cups).where(eq(cups.name, name)).get();
export const insertCup = (tx: Db, values: CupValues, madeAt: number): number =>
  tx
    .insert(cups)
    .values({ ...values, madeAt })
    .returning({ id: cups.id })
    .get().id;
export function updateCup(tx: Db, id: number, values: CupValues) {
  tx.update(cups).set(values).where(eq(cups.id, id)).run();
}
export function setCupRetired(tx: Db, id: number, retiredAt: number | null) {
  tx.update(cups).set({ retiredAt }).where(eq(cups.id, id)).run();
}

export const groupPackingOf = (db: Db, animalGroup: AnimalGroup): GroupPacking | undefined =>
  db.select().from(groupPacking).where(eq(groupPacking.animalGroup, animalGroup)).get();
export const speciesPackingOf = (db: Db, speciesId: number): SpeciesPacking | undefined =>
  db.select().from(speciesPacking).where(eq(speciesPacking.speciesId, speciesId)).get();
export const listGroupPacking = (db: Db): GroupPacking[] => db.select().from(groupPacking).all();
export const listSpeciesPacking = (db: Db): SpeciesPacking[] => db.select().from(speciesPacking).all();

export function saveGroupPacking(tx: Db, animalGroup: AnimalGroup, values: GroupPackingValues) {
  tx.insert(groupPacking)
    .values({ animalGroup, ...values })
    .onConflictDoUpdate({ target: groupPacking.animalGroup, set: values })
    .run();
}
export function saveSpeciesPacking(tx: Db, speciesId: number, values: SpeciesPackingValues) {
  tx.insert(speciesPacking)
    .values({ speciesId, ...values })
    .onConflictDoUpdate({ target: speciesPacking.speciesId, set: values })
    .run();
}

/** How every parcel is packed, until the owner says otherwise. */
export const readPackingHabits = (db: Db): HabitValues =>
  db.select().from(packingHabits).get() ?? {
    cupId: null,
    roomForPackMm: usualRoomForPackMm,
    customsHeading: '',
  };
export function savePackingHabits(tx: Db, values: HabitValues) {
  tx.insert(packingHabits)
    .values({ id: 1, ...values })
    .onConflictDoUpdate({ target: packingHabits.id, set: values })
    .run();
}

type Note = { words: string; isUsual: boolean };

/** How animals of a species are packed: its own words, else its group's, else every parcel's, else common practice. */
export type HowPacked = {
  cup: Cup | null;
  animalsPerCup: number | null;
  animalMassMg: number | null;
  ventilation: Note;
  padding: Note;
};

export function howPacked(db: Db, speciesId: number, group: AnimalGroup): HowPacked {
  const own = speciesPackingOf(db, speciesId);
  const ofGroup = groupPackingOf(db, group);
  const cupId = own?.cupId ?? ofGroup?.cupId ?? readPackingHabits(db).cupId;
  const note = (what: 'ventilation' | 'padding'): Note => {
    const written = own?.[what] || ofGroup?.[what] || '';
    return { words: written || usualNotes[group][what], isUsual: written === '' };
  };
  return {
    cup: cupId === null ? null : (readCup(db, cupId) ?? null),
    animalsPerCup: own?.animalsPerCup ?? ofGroup?.animalsPerCup ?? null,
    animalMassMg: own?.animalMassMg ?? null,
    ventilation: note('ventilation'),
    padding: note('padding'),
  };
}

/** Where the walk for each order begins: the first place on the shelves that something is reserved at. */
export function walkOf(db: Db, orderIds: readonly number[]): Map<number, string | null> {
  const rows = db
    .select({ orderId: orderLines.orderId, walk: min(places.shelfOrder) })
    .from(allocations)
    .innerJoin(orderLines, eq(orderLines.id, allocations.orderLineId))
    .innerJoin(cultures, eq(cultures.id, allocations.cultureId))
    .leftJoin(places, eq(places.id, cultures.placeId))
    .where(
      and(inArray(orderLines.orderId, [...orderIds]), sql`${allocations.state} IN ('reserved', 'packed')`),
    )
    .groupBy(orderLines.orderId)
    .all();
  return new Map(rows.map(({ orderId, walk }) => [orderId, walk]));
}
