import { keptRoutes } from '../plumbing/kept-pages.ts';
import type { RouteTable } from '../plumbing/route-table.ts';
import { addStartingCups, keptCups } from './cup.ts';
import {
  askGroupPacking,
  askSpeciesPacking,
  changeGroupPacking,
  changeSpeciesPacking,
  saveHabits,
  showCups,
} from './packed.ts';
import {
  careSheetOfSpecies,
  careSheetOfVersion,
  careSheetsOfOrder,
  packingSheetOfOrder,
  packingSheetsOfDay,
  showPapers,
} from './papers.ts';

const helpers = { access: 'helper', nav: 'orders' } as const;
const owner = { access: 'owner', nav: 'settings' } as const;

export const documentRoutes: RouteTable = [
  { method: 'GET', path: '/orders/:number/papers', ...helpers, shows: 'order :number', handler: showPapers },
  {
    method: 'GET',
    path: '/orders/:number/packing-sheet.pdf',
    ...helpers,
    shows: 'order :number',
    handler: packingSheetOfOrder,
  },
  {
    method: 'GET',
    path: '/orders/:number/care-sheets.pdf',
    ...helpers,
    shows: 'order :number',
    handler: careSheetsOfOrder,
  },
  { method: 'GET', path: '/packing-sheets.pdf', ...helpers, shows: 'orders', handler: packingSheetsOfDay },
  { method: 'GET', path: '/species/:id/care-sheet.pdf', ...helpers, handler: careSheetOfSpecies },
  {
    method: 'GET',
    path: '/species/:id/care/:version/sheet.pdf',
    access: 'owner',
    nav: 'species',
    handler: careSheetOfVersion,
  },
  { method: 'GET', path: '/cups', access: 'helper', nav: 'settings', handler: showCups },
  ...keptRoutes(keptCups, owner.nav),
  { method: 'POST', path: '/cups/starting', ...owner, handler: addStartingCups },
  { method: 'POST', path: '/cups/habits', ...owner, handler: saveHabits },
  { method: 'GET', path: '/cups/groups/:group', ...owner, handler: askGroupPacking },
  { method: 'POST', path: '/cups/groups/:group', ...owner, handler: changeGroupPacking },
  { method: 'GET', path: '/cups/species/:id', ...owner, handler: askSpeciesPacking },
  { method: 'POST', path: '/cups/species/:id', ...owner, handler: changeSpeciesPacking },
];
