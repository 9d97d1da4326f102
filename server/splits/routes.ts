import type { RouteTable } from '../plumbing/route-table.ts';
import { showStart } from './start.ts';
import { askSplit, saveSplit } from './write.ts';

export const splitRoutes: RouteTable = [
  { method: 'GET', path: '/cultures/:code/split', access: 'helper', nav: 'cultures', handler: askSplit },
  { method: 'POST', path: '/cultures/:code/split', access: 'helper', nav: 'cultures', handler: saveSplit },
  {
    method: 'GET',
    path: '/cultures/:code/split/start',
    access: 'helper',
    nav: 'cultures',
    handler: showStart,
  },
];
