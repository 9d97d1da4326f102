import { keepTrip } from '../arrivals/queries-trips.ts';
import { conflict } from '../plumbing/errors.ts';
import type { Db } from '../plumbing/open-database.ts';
import { setTaken, standingChoice } from './queries-choices.ts';
import { putBackIntoStock, takeFromStock } from './queries-stock.ts';

type By = { personId: string | null; now: number };

/**
 * What packing means for an order's parcel, in the transaction of the packing: its box and packs leave the stock, and
 * what was worked out for its trip is kept for when it arrives. An order for which nothing was decided is packed as it is.
 */
export function packParcel(tx: Db, orderId: number, by: By): void {
  const choice = standingChoice(tx, orderId);
  if (!choice || choice.takenAt !== null) return;
  const short = takeFromStock(tx, choice);
  if (short.length > 0)
    throw conflict(
      `There is no more ${short.join(' and no more ')} in stock, which this parcel was to travel in. Correct the number left, or decide anew how it travels.`,
    );
  setTaken(tx, choice.id, by.now);
  const { boxId, packId, lowestC, highestC, hoursBelowSafe, hoursAboveSafe, transitHours } = choice;
  keepTrip(
    tx,
    orderId,
    { boxId, packId, lowestC, highestC, hoursBelowSafe, hoursAboveSafe, transitHours },
    by,
  );
}

/** Not packed after all: its box and packs are in stock again. */
export function unpackParcel(tx: Db, orderId: number): void {
  const choice = standingChoice(tx, orderId);
  if (!choice || choice.takenAt === null) return;
  putBackIntoStock(tx, choice);
  setTaken(tx, choice.id, null);
}
