import type { RouteTable } from '../plumbing/route-table.ts';
import { addPlaces } from './add.ts';
import { askEditPlace, savePlace } from './change.ts';
import { showPlaces } from './list.ts';
import { movePlaceDown, movePlaceUp } from './move.ts';
import { bringBackPlace, retirePlace } from './retire.ts';

const nav = 'settings';

export const placeRoutes: RouteTable = [
  { method: 'GET', path: '/places', access: 'helper', nav, handler: showPlaces },
  { method: 'POST', path: '/places', access: 'owner', nav, handler: addPlaces },
  { method: 'GET', path: '/places/:id/edit', access: 'owner', nav, handler: askEditPlace },
  { method: 'POST', path: '/places/:id/edit', access: 'owner', nav, handler: savePlace },
  { method: 'POST', path: '/places/:id/up', access: 'owner', nav, handler: movePlaceUp },
  { method: 'POST', path: '/places/:id/down', access: 'owner', nav, handler: movePlaceDown },
  { method: 'POST', path: '/places/:id/retire', access: 'owner', nav, handler: retirePlace },
  { method: 'POST', path: '/places/:id/bring-back', access: 'owner', nav, handler: bringBackPlace },
];
