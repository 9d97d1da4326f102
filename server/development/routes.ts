import type { RouteTable } from '../plumbing/route-table.ts';
import { askStages, saveStageTimes } from './edit.ts';

const nav = 'species';

export const developmentRoutes: RouteTable = [
  { method: 'GET', path: '/species/:id/development', access: 'owner', nav, handler: askStages },
  { method: 'POST', path: '/species/:id/development', access: 'owner', nav, handler: saveStageTimes },
];
