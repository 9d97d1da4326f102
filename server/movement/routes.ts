import type { RouteTable } from '../plumbing/route-table.ts';
import { addRule, askEditRule, askNewRule, bringBackRule, retireRule, saveRule } from './rule.ts';
import { addStartingRules, askOrigin, saveOrigin, showRules } from './rules.ts';

const owners = { access: 'owner', nav: 'settings' } as const;

export const movementRoutes: RouteTable = [
  { method: 'GET', path: '/movement', ...owners, handler: showRules },
  { method: 'POST', path: '/movement', ...owners, handler: addRule },
  { method: 'GET', path: '/movement/new', ...owners, handler: askNewRule },
  { method: 'POST', path: '/movement/starting', ...owners, handler: addStartingRules },
  { method: 'GET', path: '/movement/origin', ...owners, handler: askOrigin },
  { method: 'POST', path: '/movement/origin', ...owners, handler: saveOrigin },
  { method: 'GET', path: '/movement/:id/edit', ...owners, handler: askEditRule },
  { method: 'POST', path: '/movement/:id/edit', ...owners, handler: saveRule },
  { method: 'POST', path: '/movement/:id/retire', ...owners, handler: retireRule },
  { method: 'POST', path: '/movement/:id/bring-back', ...owners, handler: bringBackRule },
];
