import { keptRoutes } from '../plumbing/kept-pages.ts';
import type { RouteTable } from '../plumbing/route-table.ts';
import { keptEnclosures, showPreview } from './edit.ts';
import { showEnclosures } from './list.ts';

const nav = 'settings';

export const enclosureRoutes: RouteTable = [
  { method: 'GET', path: '/enclosures', access: 'helper', nav, handler: showEnclosures },
  { method: 'GET', path: '/enclosures/preview', access: 'owner', nav, handler: showPreview },
  ...keptRoutes(keptEnclosures, nav),
];
