import type { RouteTable } from '../plumbing/route-table.ts';
import { showWorking, showWorkings } from './page.ts';

export const workingRoutes: RouteTable = [
  { method: 'GET', path: '/workings', access: 'helper', handler: showWorkings },
  { method: 'GET', path: '/workings/:name', access: 'helper', handler: showWorking },
];
