import { formatDay } from '../../views/layout/format.ts';
import { decidedWords } from '../../views/parcels/say-packing.ts';
import { stopMails } from '../mails/queries.ts';
import { tellHeld } from '../mails/queries-tell.ts';
import { addHistory, type By, changeOrder, loadOrder, type Order } from '../orders/queries.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { conflict } from '../plumbing/errors.ts';
import type { Db } from '../plumbing/open-database.ts';
import type { KeptDecision } from './decide.ts';
import { orderParcelOf, saveOrderParcel } from './queries-carriers.ts';
import {
  type ChoiceRow,
  endChoice,
  insertChoice,
  promisedStock,
  reopenChoice,
  standingChoice,
} from './queries-choices.ts';
import { parcelStock } from './queries-stock.ts';

/** What a form was filled from: another version means that somebody else decided meanwhile. */
export const versionOf = ({ version }: Pick<Order, 'version'>, choiceId: number | null): string =>
  `${version}.${choiceId ?? 0}`;

/** Who does it, and when. */
export const byOf = (call: StaffCall): By => ({
  personId: call.who.id,
  now: call.clock.now(),
  today: call.today,
});

function waiting(
  tx: Db,
  number: number,
  version: string,
): { order: Order; before: ChoiceRow | undefined } | null {
  const { order } = loadOrder(tx, number);
  if (order.state !== 'confirmed')
    throw conflict(`Order ${number} is ${order.state} now, so nothing is decided about its parcel any more.`);
  const before = standingChoice(tx, order.id);
  return versionOf(order, before?.id ?? null) === version ? { order, before } : null;
}

/** What of a decision is not to be had any more; null where it is. */
function goneOf(tx: Db, { orderId, decided, packs }: KeptDecision): string | null {
  const { boxes, packs: all } = parcelStock(tx, promisedStock(tx, orderId));
  const box = boxes.find(({ name }) => name === decided.box.name);
  const pack = all.find(({ name }) => name === decided.pack?.name);
  if (!box || box.left === 0) return `no ${decided.box.name} is left`;
  if (decided.pack && (!pack || (pack.left !== null && pack.left < packs)))
    return `too few of ${decided.pack.name} are left`;
  return null;
}

export type Chosen =
  | { done: true; id: number; told: boolean }
  | { done: false; why: 'overtaken' }
  | { done: false; why: 'gone'; words: string };

export type Choosing = {
  number: number;
  version: string;
  reason: string | null;
  batch: string | null;
  tell: boolean;
};

/** Keeps what was decided for an order's parcel; its day becomes the order's. Call it inside a transaction. */
export function choose(tx: Db, kept: KeptDecision, choosing: Choosing, by: By): Chosen {
  const { number, version, reason, batch, tell } = choosing;
  const stand = waiting(tx, number, version);
  if (!stand) return { done: false, why: 'overtaken' };
  const gone = goneOf(tx, kept);
  if (gone !== null) return { done: false, why: 'gone', words: gone };
  const { order, before } = stand;
  if (before) endChoice(tx, before.id, by);
  const id = insertChoice(tx, {
    ...kept,
    reason,
    dispatchBefore: order.dispatchOn,
    insteadOf: before?.id ?? null,
    batch,
    madeBy: by.personId,
    madeAt: by.now,
  });
  changeOrder(tx, order.id, { dispatchOn: kept.dispatchOn });
  const own = orderParcelOf(tx, order.id);
  if (own?.notBefore && own.notBefore > kept.dispatchOn)
    saveOrderParcel(tx, order.id, { notBefore: null }, by);
  addHistory(tx, order.id, 'confirmed', decidedWords({ ...kept, ...kept.decided, reason }), by);
  const isLater = order.dispatchOn !== null && kept.dispatchOn > order.dispatchOn;
  const told = tell && isLater && tellHeld(tx, loadOrder(tx, number), by);
  return { done: true, id, told };
}

/** Takes back what was decided last; what stood before stands again. Returns whether there was something to take back. */
export function takeBack(tx: Db, number: number, choiceId: number, by: By): boolean {
  const { order } = loadOrder(tx, number);
  const choice = standingChoice(tx, order.id);
  if (order.state !== 'confirmed' || choice?.id !== choiceId || choice.takenAt !== null) return false;
  endChoice(tx, choice.id, by);
  if (choice.insteadOf !== null) reopenChoice(tx, choice.insteadOf, choice.id);
  if (order.dispatchOn === choice.dispatchOn)
    changeOrder(tx, order.id, { dispatchOn: choice.dispatchBefore });
  stopMails(tx, { orderId: order.id, kind: 'order held' }, by.now);
  addHistory(tx, order.id, 'confirmed', 'What was decided for the parcel is taken back.', by);
  return true;
}

export type Holding = { number: number; version: string; until: string; tell: boolean };

/** Lets an order wait for better weather until a day, which becomes its day. Null where somebody was quicker. */
export function hold(tx: Db, { number, version, until, tell }: Holding, by: By): { told: boolean } | null {
  const stand = waiting(tx, number, version);
  if (!stand) return null;
  const { order, before } = stand;
  if (before) endChoice(tx, before.id, by);
  saveOrderParcel(tx, order.id, { notBefore: until }, by);
  changeOrder(tx, order.id, { dispatchOn: until });
  addHistory(tx, order.id, 'confirmed', `Waits for the weather, until ${formatDay(until)} at least.`, by);
  return { told: tell && tellHeld(tx, loadOrder(tx, number), by) };
}

/** It need not wait any longer. */
export function letGo(tx: Db, number: number, by: By): void {
  const { order } = loadOrder(tx, number);
  if (order.state !== 'confirmed') throw conflict(`Order ${number} is ${order.state} now. Look at it again.`);
  saveOrderParcel(tx, order.id, { notBefore: null }, by);
  changeOrder(tx, order.id, { dispatchOn: null });
  stopMails(tx, { orderId: order.id, kind: 'order held' }, by.now);
  addHistory(tx, order.id, 'confirmed', 'Need not wait for the weather any longer.', by);
}
