import type { RouteTable } from '../plumbing/route-table.ts';
import { changeOffers, listSpecies, showOffers } from './owner.ts';
import { printOffers } from './print.ts';
import {
  forgetWriter,
  refuseRequest,
  reopenRequest,
  showRequest,
  showRequests,
  takeRequest,
} from './requests.ts';

const list = { access: 'owner', nav: 'surplus' } as const;
const requests = { access: 'owner', nav: 'orders' } as const;

/** The owner's side; what strangers open is in public.ts. */
export const offerRoutes: RouteTable = [
  { method: 'GET', path: '/offers', ...list, handler: showOffers },
  { method: 'POST', path: '/offers', ...list, handler: changeOffers },
  { method: 'GET', path: '/offers/list.pdf', ...list, handler: printOffers },
  { method: 'POST', path: '/offers/species/:id', ...list, handler: listSpecies },
  { method: 'GET', path: '/requests', ...requests, shows: 'requests', handler: showRequests },
  { method: 'GET', path: '/requests/:id', ...requests, shows: 'request :id', handler: showRequest },
  { method: 'POST', path: '/requests/:id/take', ...requests, handler: takeRequest },
  { method: 'POST', path: '/requests/:id/refuse', ...requests, handler: refuseRequest },
  { method: 'POST', path: '/requests/:id/reopen', ...requests, handler: reopenRequest },
  { method: 'POST', path: '/requests/:id/forget', ...requests, handler: forgetWriter },
];
