import type { RouteTable } from '../plumbing/route-table.ts';
import { markAllWell, showRound } from './round.ts';
import { askCheck, saveCheck } from './write.ts';

export const checkRoutes: RouteTable = [
  { method: 'GET', path: '/round', access: 'helper', nav: 'round', handler: showRound },
  { method: 'GET', path: '/cultures/:code/check', access: 'helper', nav: 'round', handler: askCheck },
  { method: 'POST', path: '/cultures/:code/check', access: 'helper', nav: 'round', handler: saveCheck },
  { method: 'POST', path: '/cultures/:code/all-well', access: 'helper', nav: 'round', handler: markAllWell },
];
