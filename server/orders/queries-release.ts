import { formatCount } from '../../views/layout/format.ts';
import { refreshEstimate } from '../counts/queries-estimate.ts';
import { stopMails } from '../mails/queries.ts';
import { conflict, notFound } from '../plumbing/errors.ts';
import type { Db } from '../plumbing/open-database.ts';
import { addHistory, type By, changeOrder, loadOrder } from './queries.ts';
import { allocationsOf, endPromise } from './queries-allocations.ts';

/**
 * Sets promised animals free again. A confirmed order has all its groups, so it becomes a draft. Call it inside a
 * transaction.
 */
export function release(
  tx: Db,
  number: number,
  allocationId: number,
  by: By,
): { code: string; groups: number } {
  const { order } = loadOrder(tx, number);
  const found = allocationsOf(tx, order.id).find((one) => one.id === allocationId);
  if (!found) throw notFound('reservation');
  if (order.state !== 'draft' && order.state !== 'confirmed')
    throw conflict(`Order ${number} is ${order.state}, so its animals cannot be set free here.`);
  endPromise(tx, found.id, { state: 'released' });
  if (order.state === 'confirmed') {
    changeOrder(tx, order.id, { state: 'draft' });
    stopMails(tx, { orderId: order.id, kind: 'order confirmed' }, by.now);
  }
  const back = order.state === 'confirmed' ? ' The order is a draft again.' : '';
  addHistory(
    tx,
    order.id,
    'draft',
    `Released ${formatCount(found.groups, 'group')} from ${found.code}.${back}`,
    by,
  );
  refreshEstimate(tx, found.cultureId, by.today, by.now);
  return { code: found.code, groups: found.groups };
}
