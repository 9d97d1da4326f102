import type { RouteTable } from '../plumbing/route-table.ts';
import { showSurplus } from './page.ts';

export const surplusRoutes: RouteTable = [
  { method: 'GET', path: '/surplus', access: 'helper', nav: 'surplus', handler: showSurplus },
];
