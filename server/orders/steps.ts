import { mayBecome, type OrderState } from '../../shared/orders/states.ts';
import { formatCount, formatDay } from '../../views/layout/format.ts';
import { ensureLink } from '../arrivals/queries-links.ts';
import { workOutAnew } from '../counts/queries-outdated.ts';
import { hasCareSheets } from '../documents/queries-care.ts';
import { stopMails } from '../mails/queries.ts';
import { tellConfirmed, tellSent } from '../mails/queries-tell.ts';
import { leftAgainstRules, refuseBlocked } from '../movement/queries-blocked.ts';
import { conflict, Refusal } from '../plumbing/errors.ts';
import type { Db } from '../plumbing/open-database.ts';
import { addHistory, type By, changeOrder, linesOf, loadOrder, type Order } from './queries.ts';
import { allocationsOf, endPromise, groupsByLine } from './queries-allocations.ts';

function expectStep(order: Order, to: OrderState) {
  if (!mayBecome(order.state, to))
    throw conflict(
      `Order ${order.number} is ${order.state} now, so it cannot become ${to}. Look at it again.`,
    );
}

/** How many groups an order still lacks. */
export function missingGroups(tx: Db, orderId: number): number {
  const has = groupsByLine(allocationsOf(tx, orderId));
  return linesOf(tx, orderId).reduce(
    (sum, line) => sum + Math.max(0, line.groups - (has.get(line.id) ?? 0)),
    0,
  );
}

/** A draft whose groups are all reserved becomes an order that is packed on its day. */
export function confirm(tx: Db, number: number, by: By, tell = false): { told: boolean } {
  const { order } = loadOrder(tx, number);
  expectStep(order, 'confirmed');
  const missing = missingGroups(tx, order.id);
  if (missing > 0 || linesOf(tx, order.id).length === 0)
    throw new Refusal(
      409,
      'Not all reserved',
      `${formatCount(missing, 'group')} of order ${number} ${missing === 1 ? 'is' : 'are'} not reserved yet. Reserve them, then confirm.`,
    );
  refuseBlocked(tx, order, 'confirmed', by.today);
  changeOrder(tx, order.id, { state: 'confirmed' });
  addHistory(tx, order.id, 'confirmed', 'All groups are reserved.', by);
  ensureLink(tx, order, by);
  return { told: tell && tellConfirmed(tx, loadOrder(tx, number), by) };
}

/** Ends every promise of an order that is not packed; its animals are free again. */
export function cancel(tx: Db, number: number, reason: string, by: By): { released: number } {
  const { order } = loadOrder(tx, number);
  expectStep(order, 'cancelled');
  const promised = allocationsOf(tx, order.id).filter((one) => one.state === 'reserved');
  for (const one of promised) endPromise(tx, one.id, { state: 'released' });
  changeOrder(tx, order.id, { state: 'cancelled' });
  stopMails(tx, { orderId: order.id, kind: 'order confirmed' }, by.now);
  const released = promised.reduce((sum, one) => sum + one.groups, 0);
  const freed = released === 0 ? '' : `${formatCount(released, 'group')} set free. `;
  addHistory(tx, order.id, 'cancelled', `${freed}${reason}`.trim(), by);
  workOutAnew(tx, [...new Set(promised.map((one) => one.cultureId))], by.today, by.now);
  return { released };
}

export type Leaving = {
  sentOn: string;
  tracking: string;
  trackingLink: string;
  tell: boolean;
  /** Why it left although a movement rule stood against it. */
  despite?: string;
};

export function markSent(tx: Db, number: number, leaving: Leaving, by: By): { told: boolean } {
  const { order } = loadOrder(tx, number);
  expectStep(order, 'sent');
  const { sentOn, tracking, trackingLink, tell, despite = '' } = leaving;
  const against = leftAgainstRules(tx, order, sentOn, despite);
  changeOrder(tx, order.id, { state: 'sent', sentOn, tracking, trackingLink });
  const why = against ? ` Against the movement rules: ${despite}` : '';
  addHistory(tx, order.id, 'sent', `Left on ${formatDay(sentOn)}.${why}`, by);
  if (!tell) return { told: false };
  const loaded = loadOrder(tx, number);
  return { told: tellSent(tx, loaded, by, hasCareSheets(tx, loaded, by.today)) };
}

export function close(tx: Db, number: number, by: By) {
  const { order } = loadOrder(tx, number);
  expectStep(order, 'closed');
  changeOrder(tx, order.id, { state: 'closed' });
  addHistory(tx, order.id, 'closed', '', by);
}

/** Takes back that an order was sent or closed: nothing but its state depends on that. */
export function stepBack(tx: Db, number: number, by: By): OrderState {
  const { order } = loadOrder(tx, number);
  if (order.state !== 'sent' && order.state !== 'closed')
    throw conflict(
      `Order ${number} is ${order.state} now, so there is nothing to take back. Look at it again.`,
    );
  const to = order.state === 'closed' ? 'sent' : 'packed';
  changeOrder(tx, order.id, to === 'packed' ? { state: to, sentOn: null } : { state: to });
  if (to === 'packed') stopMails(tx, { orderId: order.id, kind: 'order sent' }, by.now);
  addHistory(tx, order.id, to, `Not ${order.state} after all.`, by);
  return to;
}
