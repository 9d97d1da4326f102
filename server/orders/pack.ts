import { type ExtrasAs, extrasAs } from '../../shared/orders/form.ts';
import { leaving } from '../../shared/orders/make-up.ts';
import { pickKey, picksOf } from '../../shared/orders/picks.ts';
import { formatCount } from '../../views/layout/format.ts';
import { refreshEstimate } from '../counts/queries-estimate.ts';
import { appendEntry, withdrawEntry } from '../cultures/queries-diary.ts';
import { forgetCareSheets, keepCareSheets } from '../documents/queries-kept.ts';
import { packParcel, unpackParcel } from '../parcels/queries-pack.ts';
import { conflict, Refusal } from '../plumbing/errors.ts';
import type { Db } from '../plumbing/open-database.ts';
import { addHistory, type By, changeOrder, linesOf, loadOrder, type OrderLine } from './queries.ts';
import {
  allocationsOf,
  type CurrentAllocation,
  endPromise,
  insertAllocation,
  standingHarvest,
} from './queries-allocations.ts';
import { refusedByDatabase } from './reserve.ts';

/** Not packed: which picks are not ticked, or may not leave. Thrown, so that the transaction is undone. */
export class NotPacked extends Error {
  constructor(readonly errors: Record<string, string>) {
    super('not packed');
  }
}

/** Why nothing may leave a culture, or null when it may. */
export function whyNotToPack(pick: Pick<CurrentAllocation, 'code' | 'cultureStatus'>): string | null {
  if (pick.cultureStatus === 'active') return null;
  const since =
    pick.cultureStatus === 'quarantine' ? 'has gone into quarantine since' : 'has been retired since';
  return `${pick.code} ${since}. Nothing may leave it. The owner can release these groups and reserve others.`;
}

export type Ticked = { pick: string; extras: ExtrasAs };

export const isExtrasAs = (text: unknown): text is ExtrasAs =>
  (extrasAs as readonly unknown[]).includes(text);

function harvest(
  tx: Db,
  orderId: number,
  line: OrderLine,
  taken: CurrentAllocation,
  extras: ExtrasAs,
  by: By,
) {
  const { adults, juveniles, animals } = leaving(taken.groups, line, extras);
  const diaryId = appendEntry(tx, {
    cultureId: taken.cultureId,
    onDay: by.today,
    kind: 'harvest',
    animals,
    adults,
    juveniles,
    orderId,
    via: 'packing',
    madeBy: by.personId,
    madeAt: by.now,
  });
  endPromise(tx, taken.id, { state: 'packed', diaryId });
}

const refreshAll = (tx: Db, allocations: readonly CurrentAllocation[], by: By) => {
  for (const id of new Set(allocations.map((one) => one.cultureId)))
    refreshEstimate(tx, id, by.today, by.now);
};

export type Packed = { cultures: number; animals: number };

/**
 * Marks an order packed: every promise becomes a harvest in its culture's diary. All picks must be ticked, so that
 * what the packer saw is what is written down. Call it inside a transaction.
 */
export function pack(tx: Db, number: number, ticked: readonly Ticked[], by: By): Packed {
  const { order } = loadOrder(tx, number);
  if (order.state !== 'confirmed')
    throw conflict(`Order ${number} is not waiting to be packed: it is ${order.state}. Look at it again.`);
  const allocations = allocationsOf(tx, order.id);
  const lines = new Map(linesOf(tx, order.id).map((line) => [line.id, line]));
  const ticks = new Map(ticked.map((tick) => [tick.pick, tick.extras]));
  const errors: Record<string, string> = {};
  for (const pick of picksOf(allocations, [...lines.values()])) {
    const refusal = whyNotToPack(pick);
    if (refusal) errors[pick.key] = refusal;
    else if (!ticks.has(pick.key)) errors[pick.key] = `${pick.code} is not ticked yet.`;
  }
  if (Object.keys(errors).length > 0) throw new NotPacked(errors);
  let animals = 0;
  for (const taken of allocations) {
    const line = lines.get(taken.lineId)!;
    harvest(tx, order.id, line, taken, ticks.get(pickKey(taken))!, by);
    animals += taken.animals;
  }
  changeOrder(tx, order.id, { state: 'packed' });
  const cultures = new Set(allocations.map((one) => one.cultureId)).size;
  const words = `Packed ${animals} animals from ${formatCount(cultures, 'culture')}; the harvests are in their diaries.`;
  addHistory(tx, order.id, 'packed', words, by);
  keepCareSheets(tx, number, by);
  packParcel(tx, order.id, by);
  refreshAll(tx, allocations, by);
  return { cultures, animals };
}

/** Takes the harvest of a packed allocation out of the diary, in whatever form it stands by now. */
function withdrawHarvest(tx: Db, packed: CurrentAllocation, by: By) {
  const standing = standingHarvest(tx, packed);
  if (standing !== undefined)
    withdrawEntry(tx, standing, { madeBy: by.personId, madeAt: by.now, via: 'packing' });
}

/** Promises the animals anew; false when the culture cannot spare them or may not be sold from any more. */
function promiseAgain(tx: Db, packed: CurrentAllocation, by: By): boolean {
  const values = {
    orderLineId: packed.lineId,
    cultureId: packed.cultureId,
    groups: packed.groups,
    animals: packed.animals,
    overrideReason: packed.cultureStatus === 'active' ? packed.overrideReason : null,
    insteadOf: packed.id,
    madeBy: by.personId,
    madeAt: by.now,
  };
  try {
    insertAllocation(tx, { ...values, state: 'reserved' });
    return true;
  } catch (error) {
    if (!refusedByDatabase(error)) throw error;
    insertAllocation(tx, { ...values, state: 'released' });
    return false;
  }
}

export type Unpacked = { state: 'confirmed' | 'draft'; lost: string[] };

/**
 * Not packed after all: the harvests are taken out of the diaries by later entries, and the animals are promised
 * anew. What cannot be promised any more leaves the order, which is then a draft. Call it inside a transaction.
 */
export function unpack(tx: Db, number: number, by: By): Unpacked {
  const { order } = loadOrder(tx, number);
  if (order.state !== 'packed')
    throw new Refusal(
      409,
      'Not packed',
      `Order ${number} is ${order.state}, so there is nothing to unpack. Look at it again.`,
    );
  const packed = allocationsOf(tx, order.id);
  for (const one of packed) withdrawHarvest(tx, one, by);
  forgetCareSheets(tx, order.id);
  unpackParcel(tx, order.id);
  refreshAll(tx, packed, by);
  const lost = packed.filter((one) => !promiseAgain(tx, one, by)).map((one) => one.code);
  const state = lost.length === 0 ? 'confirmed' : 'draft';
  changeOrder(tx, order.id, { state });
  const words =
    state === 'confirmed'
      ? 'Not packed after all: the harvests are taken out of the diaries and the animals are reserved again.'
      : `Not packed after all: the harvests are taken out of the diaries. ${lost.join(', ')} could not be reserved again; the order is a draft.`;
  addHistory(tx, order.id, state, words, by);
  refreshAll(tx, packed, by);
  return { state, lost };
}
