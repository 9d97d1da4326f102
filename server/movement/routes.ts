import { keptRoutes } from '../plumbing/kept-pages.ts';
import type { RouteTable } from '../plumbing/route-table.ts';
import { keptRules } from './rule.ts';
import { addStartingRules, askOrigin, saveOrigin, showRules } from './rules.ts';

const owners = { access: 'owner', nav: 'settings' } as const;

export const movementRoutes: RouteTable = [
  { method: 'GET', path: '/movement', ...owners, handler: showRules },
  { method: 'POST', path: '/movement/starting', ...owners, handler: addStartingRules },
  { method: 'GET', path: '/movement/origin', ...owners, handler: askOrigin },
  { method: 'POST', path: '/movement/origin', ...owners, handler: saveOrigin },
  ...keptRoutes(keptRules, owners.nav),
];
