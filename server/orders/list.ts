import { h } from 'preact';
import { isDay } from '../../shared/days.ts';
import { isOrderState, type OrderState, openStates, orderStates } from '../../shared/orders/states.ts';
import { type OrderRow, OrdersPage } from '../../views/orders/page-orders.tsx';
import { ordersWithNewLosses } from '../arrivals/queries-reports.ts';
import { openMails } from '../mails/queries.ts';
import { waitingRequests } from '../offers/queries-requests.ts';
import { addressWith, pageIn } from '../plumbing/address.ts';
import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import {
  contentsOf,
  countByState,
  countOrders,
  daysOfDrafts,
  daysToPack,
  listOrders,
  partsOfTotal,
} from './queries-list.ts';

const pageSize = 50;

function statesFor(state: string): readonly OrderState[] {
  if (isOrderState(state)) return [state];
  return state === 'all' ? orderStates : openStates;
}

/** An order that has not left wants somebody when its day has come. */
function dueOf(order: { state: OrderState; dispatchOn: string | null }, today: string): OrderRow['due'] {
  if (!openStates.includes(order.state) || order.dispatchOn === null || order.dispatchOn > today) return null;
  return order.dispatchOn < today ? 'late' : 'today';
}

export function showOrders(call: StaffCall): Answer {
  const { query } = call;
  const asked = query.state ?? 'open';
  const filter = {
    state: isOrderState(asked) || asked === 'all' ? asked : 'open',
    words: (query.words ?? '').slice(0, 200).trim(),
    from: isDay(query.from ?? '') ? (query.from ?? '') : '',
    to: isDay(query.to ?? '') ? (query.to ?? '') : '',
  };
  const search = {
    states: statesFor(filter.state),
    from: filter.from || null,
    to: filter.to || null,
    words: filter.words,
  };
  const number = pageIn(call);
  const found = listOrders(call.db, { ...search, limit: pageSize, offset: (number - 1) * pageSize });
  const contents = contentsOf(
    call.db,
    found.map((order) => order.id),
  );
  const mayWrite = call.who.role === 'owner';
  const [first] = found;
  return page(
    h(OrdersPage, {
      furniture: call.furniture,
      rows: found.map((order) => ({
        number: order.number,
        state: order.state,
        customerName: order.customerName,
        dispatchOn: order.dispatchOn,
        due: dueOf(order, call.today),
        contents: contents.get(order.id) ?? [],
        currency: order.currency,
        totalMinor: mayWrite ? order.totalMinor : null,
      })),
      total: countOrders(call.db, search),
      page: number,
      pageSize,
      pageHref: (to) => addressWith('/orders', { ...filter, page: to }),
      filter,
      filtered: filter.state !== 'open' || Boolean(filter.words || filter.from || filter.to),
      counts: countByState(call.db),
      days: daysToPack(call.db),
      draftDays: mayWrite ? daysOfDrafts(call.db) : [],
      mayWrite,
      example: mayWrite && first ? { ...first, ...partsOfTotal(call.db, first.id) } : null,
      losses: mayWrite ? ordersWithNewLosses(call.db) : [],
      requests: mayWrite ? waitingRequests(call.db) : 0,
      openMails: mayWrite ? openMails(call.db) : 0,
    }),
  );
}
