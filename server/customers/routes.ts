import type { RouteTable } from '../plumbing/route-table.ts';
import { askErase, erase, giveOutCustomer, showForget } from './erase.ts';
import { showCustomer, showCustomers } from './read.ts';
import { addCustomer, editCustomer, saveCustomer, showNewCustomer } from './write.ts';

const owners = { access: 'owner', nav: 'customers' } as const;

export const customerRoutes: RouteTable = [
  { method: 'GET', path: '/customers', ...owners, shows: 'customers', handler: showCustomers },
  { method: 'POST', path: '/customers', ...owners, handler: addCustomer },
  { method: 'GET', path: '/customers/new', ...owners, handler: showNewCustomer },
  { method: 'GET', path: '/customers/forget', ...owners, handler: showForget },
  { method: 'GET', path: '/customers/:id', ...owners, shows: 'customer :id', handler: showCustomer },
  { method: 'POST', path: '/customers/:id', ...owners, handler: saveCustomer },
  { method: 'GET', path: '/customers/:id/edit', ...owners, shows: 'customer :id', handler: editCustomer },
  {
    method: 'GET',
    path: '/customers/:id/data.zip',
    ...owners,
    shows: 'customer :id',
    handler: giveOutCustomer,
  },
  { method: 'GET', path: '/customers/:id/erase', ...owners, shows: 'customer :id', handler: askErase },
  { method: 'POST', path: '/customers/:id/erase', ...owners, handler: erase },
];
