import type { RouteTable } from '../plumbing/route-table.ts';
import { addAmends, askAmends, takeAmendsBack } from './amends.ts';
import { askArrivalHabits, changeArrivalHabits } from './habits.ts';
import { closeLink, makeLink, seeArrival, showArrivalPhoto } from './links.ts';
import { showLessons, takeLimit, takeLimitBack } from './teach.ts';
import { askTold, writeTold } from './told.ts';

const orders = { access: 'owner', nav: 'orders' } as const;
const settings = { access: 'owner', nav: 'settings' } as const;

/** The owner's side; what customers open is in customer.ts. */
export const arrivalRoutes: RouteTable = [
  { method: 'POST', path: '/orders/:number/link', ...orders, handler: makeLink },
  { method: 'POST', path: '/orders/:number/link/end', ...orders, handler: closeLink },
  { method: 'POST', path: '/orders/:number/arrival/seen', ...orders, handler: seeArrival },
  {
    method: 'GET',
    path: '/orders/:number/arrival/photos/:id',
    ...orders,
    shows: 'order :number',
    handler: showArrivalPhoto,
  },
  {
    method: 'GET',
    path: '/orders/:number/arrival/told',
    ...orders,
    shows: 'order :number',
    handler: askTold,
  },
  { method: 'POST', path: '/orders/:number/arrival/told', ...orders, handler: writeTold },
  { method: 'GET', path: '/orders/:number/amends', ...orders, shows: 'order :number', handler: askAmends },
  { method: 'POST', path: '/orders/:number/amends', ...orders, handler: addAmends },
  { method: 'POST', path: '/orders/:number/amends/:id/end', ...orders, handler: takeAmendsBack },
  { method: 'GET', path: '/parcels/arrivals', ...orders, handler: showLessons },
  { method: 'POST', path: '/parcels/arrivals/limit', ...orders, handler: takeLimit },
  { method: 'POST', path: '/parcels/arrivals/limit/back', ...orders, handler: takeLimitBack },
  { method: 'GET', path: '/settings/arrivals', ...settings, handler: askArrivalHabits },
  { method: 'POST', path: '/settings/arrivals', ...settings, handler: changeArrivalHabits },
];
