import type { RouteTable } from '../plumbing/route-table.ts';
import { addEnclosure, askEditEnclosure, askNewEnclosure, saveEnclosure, showPreview } from './edit.ts';
import { showEnclosures } from './list.ts';
import { bringBackEnclosure, retireEnclosure } from './retire.ts';

const nav = 'settings';

export const enclosureRoutes: RouteTable = [
  { method: 'GET', path: '/enclosures', access: 'helper', nav, handler: showEnclosures },
  { method: 'POST', path: '/enclosures', access: 'owner', nav, handler: addEnclosure },
  { method: 'GET', path: '/enclosures/new', access: 'owner', nav, handler: askNewEnclosure },
  { method: 'GET', path: '/enclosures/preview', access: 'owner', nav, handler: showPreview },
  { method: 'GET', path: '/enclosures/:id/edit', access: 'owner', nav, handler: askEditEnclosure },
  { method: 'POST', path: '/enclosures/:id/edit', access: 'owner', nav, handler: saveEnclosure },
  { method: 'POST', path: '/enclosures/:id/retire', access: 'owner', nav, handler: retireEnclosure },
  { method: 'POST', path: '/enclosures/:id/bring-back', access: 'owner', nav, handler: bringBackEnclosure },
];
