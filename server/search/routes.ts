import type { RouteTable } from '../plumbing/route-table.ts';
import { showFound } from './show.ts';

export const searchRoutes: RouteTable = [
  { method: 'GET', path: '/search', access: 'helper', nav: 'search', handler: showFound },
];
