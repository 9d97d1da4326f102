import type { RouteTable } from '../plumbing/route-table.ts';
import { askCount, saveCount } from './write.ts';

export const countRoutes: RouteTable = [
  { method: 'GET', path: '/cultures/:code/count', access: 'helper', nav: 'cultures', handler: askCount },
  { method: 'POST', path: '/cultures/:code/count', access: 'helper', nav: 'cultures', handler: saveCount },
];
