import type { RouteTable } from '../plumbing/route-table.ts';
import { showBlankCheck, showBlankCount } from './blank-forms.ts';
import { showMeanwhile } from './meanwhile.ts';
import { listKeptCultures, showSignal, showWaiting } from './signal.ts';

const staff = { access: 'helper', nav: 'round' } as const;

export const waitingRoutes: RouteTable = [
  { method: 'GET', path: '/waiting', ...staff, handler: showWaiting },
  { method: 'GET', path: '/waiting/cultures', ...staff, handler: listKeptCultures },
  { method: 'GET', path: '/waiting/forms/check', ...staff, handler: showBlankCheck },
  { method: 'GET', path: '/waiting/forms/count', ...staff, handler: showBlankCount },
  { method: 'GET', path: '/signal', ...staff, handler: showSignal },
  { method: 'GET', path: '/cultures/:code/meanwhile', ...staff, handler: showMeanwhile },
];
