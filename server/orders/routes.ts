import type { RouteTable } from '../plumbing/route-table.ts';
import {
  cancelOrder,
  closeOrder,
  confirmOrder,
  releaseAnimals,
  reserveAnimals,
  sendOrder,
  takeBack,
} from './act.ts';
import { addNewOrder, changeOrderForm, editOrder, showNewOrder } from './edit.ts';
import { showOrders } from './list.ts';
import { packOrder, showPacking, unpackOrder } from './packing.ts';
import { proposeForOrder, reserveProposal } from './propose.ts';
import { proposeForDay, reserveForDay } from './propose-day.ts';
import { showOrder } from './show.ts';

const owners = { access: 'owner', nav: 'orders' } as const;
const helpers = { access: 'helper', nav: 'orders' } as const;

export const orderRoutes: RouteTable = [
  { method: 'GET', path: '/orders', ...helpers, shows: 'orders', handler: showOrders },
  { method: 'POST', path: '/orders', ...owners, handler: addNewOrder },
  { method: 'GET', path: '/orders/new', ...owners, shows: 'customers', handler: showNewOrder },
  { method: 'GET', path: '/orders/propose', ...owners, shows: 'orders', handler: proposeForDay },
  { method: 'POST', path: '/orders/propose', ...owners, handler: reserveForDay },
  { method: 'GET', path: '/orders/:number', ...helpers, shows: 'order :number', handler: showOrder },
  { method: 'POST', path: '/orders/:number', ...owners, handler: changeOrderForm },
  { method: 'GET', path: '/orders/:number/edit', ...owners, shows: 'order :number', handler: editOrder },
  { method: 'POST', path: '/orders/:number/reserve', ...owners, handler: reserveAnimals },
  {
    method: 'GET',
    path: '/orders/:number/propose',
    ...owners,
    shows: 'order :number',
    handler: proposeForOrder,
  },
  { method: 'POST', path: '/orders/:number/propose', ...owners, handler: reserveProposal },
  { method: 'POST', path: '/orders/:number/release', ...owners, handler: releaseAnimals },
  { method: 'POST', path: '/orders/:number/confirm', ...owners, handler: confirmOrder },
  { method: 'POST', path: '/orders/:number/cancel', ...owners, handler: cancelOrder },
  { method: 'GET', path: '/orders/:number/pack', ...helpers, shows: 'order :number', handler: showPacking },
  { method: 'POST', path: '/orders/:number/pack', ...helpers, handler: packOrder },
  { method: 'POST', path: '/orders/:number/unpack', ...helpers, handler: unpackOrder },
  { method: 'POST', path: '/orders/:number/sent', ...owners, handler: sendOrder },
  { method: 'POST', path: '/orders/:number/close', ...owners, handler: closeOrder },
  { method: 'POST', path: '/orders/:number/back', ...owners, handler: takeBack },
];
