import type { RouteTable } from '../plumbing/route-table.ts';
import { makeCalendar, stopCalendar } from './account.ts';

const own = { access: 'helper', nav: 'account' } as const;

export const calendarRoutes: RouteTable = [
  { method: 'POST', path: '/account/calendar', ...own, handler: makeCalendar },
  { method: 'POST', path: '/account/calendar/stop', ...own, handler: stopCalendar },
];
