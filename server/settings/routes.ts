import type { RouteTable } from '../plumbing/route-table.ts';
import { changeBusiness, showBusiness } from './business.ts';
import { moveFirstSteps, showFirstSteps } from './first-steps.ts';
import { showSettings } from './settings.ts';

const settings = { access: 'owner', nav: 'settings' } as const;

export const settingsRoutes: RouteTable = [
  { method: 'GET', path: '/settings', ...settings, handler: showSettings },
  { method: 'GET', path: '/settings/business', ...settings, handler: showBusiness },
  { method: 'POST', path: '/settings/business', ...settings, handler: changeBusiness },
  { method: 'GET', path: '/settings/first-steps', ...settings, handler: showFirstSteps },
  { method: 'POST', path: '/settings/first-steps', ...settings, handler: moveFirstSteps },
];
