import type { RouteTable } from '../plumbing/route-table.ts';
import { askFeeder, saveFeederSpecies, stopFeeder } from './edit.ts';
import { showFeeders } from './plan.ts';

const nav = 'feeders';

export const feederRoutes: RouteTable = [
  { method: 'GET', path: '/feeders', access: 'helper', nav, handler: showFeeders },
  { method: 'GET', path: '/feeders/:id/edit', access: 'owner', nav, handler: askFeeder },
  { method: 'POST', path: '/feeders/:id/edit', access: 'owner', nav, handler: saveFeederSpecies },
  { method: 'POST', path: '/feeders/:id/stop', access: 'owner', nav, handler: stopFeeder },
];
