import { and, desc, eq, inArray, isNull } from 'drizzle-orm';
import type { ParcelChoice } from '../../shared/parcels/choice.ts';
import type { Db } from '../plumbing/open-database.ts';
import { orders, parcelChoices, people } from '../schema/tables.ts';
import type { PromisedStock } from './queries-stock.ts';

export type ChoiceRow = typeof parcelChoices.$inferSelect;
export type ChoiceValues = Omit<ChoiceRow, 'id' | 'takenAt' | 'endedBy' | 'endedAt'>;

const withPerson = (db: Db) =>
  db
    .select({ choice: parcelChoices, by: people.name })
    .from(parcelChoices)
    .leftJoin(people, eq(people.id, parcelChoices.madeBy));

function asChoice({ choice, by }: { choice: ChoiceRow; by: string | null }): ParcelChoice {
  const { decided, madeAt, takenAt, reason, ...row } = choice;
  return {
    ...decided,
    id: row.id,
    orderId: row.orderId,
    dispatchOn: row.dispatchOn,
    arrivesOn: row.arrivesOn,
    dispatchBy: row.dispatchBy,
    packs: row.packs,
    isHeld: row.isHeld,
    transitHours: row.transitHours,
    lowestC: row.lowestC,
    highestC: row.highestC,
    hoursBelowSafe: row.hoursBelowSafe,
    hoursAboveSafe: row.hoursAboveSafe,
    isOverride: reason !== null,
    reason,
    chosenAt: madeAt,
    chosenBy: by,
    isTaken: takenAt !== null,
  };
}

/** What stands decided for an order's parcel, as it was decided; null where nothing is. */
export function choiceOf(db: Db, orderId: number): ParcelChoice | null {
  const row = withPerson(db)
    .where(and(eq(parcelChoices.orderId, orderId), isNull(parcelChoices.endedAt)))
    .get();
  return row ? asChoice(row) : null;
}

/** The same for many orders. */
export function choicesOf(db: Db, orderIds: readonly number[]): Map<number, ParcelChoice> {
  if (orderIds.length === 0) return new Map();
  const rows = withPerson(db)
    .where(and(inArray(parcelChoices.orderId, [...orderIds]), isNull(parcelChoices.endedAt)))
    .all();
  return new Map(rows.map((row) => [row.choice.orderId, asChoice(row)]));
}

/** All that was ever decided for an order's parcel, the newest first. */
export const choicesMade = (db: Db, orderId: number): (ParcelChoice & { endedAt: number | null })[] =>
  withPerson(db)
    .where(eq(parcelChoices.orderId, orderId))
    .orderBy(desc(parcelChoices.id))
    .limit(50)
    .all()
    .map((row) => ({ ...asChoice(row), endedAt: row.choice.endedAt }));

export const insertChoice = (tx: Db, values: ChoiceValues): number =>
  tx.insert(parcelChoices).values(values).returning({ id: parcelChoices.id }).get().id;

export const standingChoice = (db: Db, orderId: number): ChoiceRow | undefined =>
  db
    .select()
    .from(parcelChoices)
    .where(and(eq(parcelChoices.orderId, orderId), isNull(parcelChoices.endedAt)))
    .get();

/** Choices made in one step that still stand. */
export const choicesOfBatch = (db: Db, batch: string): ChoiceRow[] =>
  db
    .select()
    .from(parcelChoices)
    .where(and(eq(parcelChoices.batch, batch), isNull(parcelChoices.endedAt)))
    .all();

export function endChoice(tx: Db, id: number, by: { personId: string | null; now: number }): void {
  tx.update(parcelChoices)
    .set({ endedAt: by.now, endedBy: by.personId })
    .where(and(eq(parcelChoices.id, id), isNull(parcelChoices.endedAt)))
    .run();
}

/** Lets the choice stand again that another one, ended now, took the place of. */
export function reopenChoice(tx: Db, id: number, endedId: number): void {
  tx.update(parcelChoices).set({ insteadOf: null }).where(eq(parcelChoices.id, endedId)).run();
  tx.update(parcelChoices).set({ endedAt: null, endedBy: null }).where(eq(parcelChoices.id, id)).run();
}

/** Notes that box and packs left the stock for it, or came back. */
export function setTaken(tx: Db, id: number, takenAt: number | null): void {
  tx.update(parcelChoices).set({ takenAt }).where(eq(parcelChoices.id, id)).run();
}

/** Boxes and packs that are decided for orders and not yet taken, but for one order's own. */
export function promisedStock(db: Db, exceptOrderId: number | null): PromisedStock {
  const rows = db
    .select({
      orderId: parcelChoices.orderId,
      boxId: parcelChoices.boxId,
      packId: parcelChoices.packId,
      packs: parcelChoices.packs,
    })
    .from(parcelChoices)
    .innerJoin(orders, eq(orders.id, parcelChoices.orderId))
    .where(and(eq(orders.state, 'confirmed'), isNull(parcelChoices.endedAt), isNull(parcelChoices.takenAt)))
    .all();
  const promised = { boxes: new Map<number, number>(), packs: new Map<number, number>() };
  for (const { orderId, boxId, packId, packs } of rows) {
    if (orderId === exceptOrderId) continue;
    promised.boxes.set(boxId, (promised.boxes.get(boxId) ?? 0) + 1);
    if (packId !== null) promised.packs.set(packId, (promised.packs.get(packId) ?? 0) + packs);
  }
  return promised;
}
