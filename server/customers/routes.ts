import type { RouteTable } from '../plumbing/route-table.ts';
import { showCustomer, showCustomers } from './read.ts';
import { addCustomer, editCustomer, saveCustomer, showNewCustomer } from './write.ts';

const owners = { access: 'owner', nav: 'customers' } as const;

export const customerRoutes: RouteTable = [
  { method: 'GET', path: '/customers', ...owners, handler: showCustomers },
  { method: 'POST', path: '/customers', ...owners, handler: addCustomer },
  { method: 'GET', path: '/customers/new', ...owners, handler: showNewCustomer },
  { method: 'GET', path: '/customers/:id', ...owners, handler: showCustomer },
  { method: 'POST', path: '/customers/:id', ...owners, handler: saveCustomer },
  { method: 'GET', path: '/customers/:id/edit', ...owners, handler: editCustomer },
];
