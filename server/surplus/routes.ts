import type { RouteTable } from '../plumbing/route-table.ts';
import { showCountNext } from './count-next.ts';
import { handToRound, takeFromRound } from './hand-over.ts';
import { showSurplus } from './page.ts';

export const surplusRoutes: RouteTable = [
  { method: 'GET', path: '/surplus', access: 'helper', nav: 'surplus', handler: showSurplus },
  { method: 'GET', path: '/surplus/count-next', access: 'helper', nav: 'surplus', handler: showCountNext },
  { method: 'POST', path: '/surplus/count-next', access: 'helper', nav: 'surplus', handler: handToRound },
  {
    method: 'POST',
    path: '/surplus/count-next/undo',
    access: 'helper',
    nav: 'surplus',
    handler: takeFromRound,
  },
];
