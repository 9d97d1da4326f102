import type { RouteTable } from '../plumbing/route-table.ts';
import {
  careSheetOfSpecies,
  careSheetOfVersion,
  careSheetsOfOrder,
  packingSheetOfOrder,
  packingSheetsOfDay,
  showPapers,
} from './papers.ts';

const helpers = { access: 'helper', nav: 'orders' } as const;

export const documentRoutes: RouteTable = [
  { method: 'GET', path: '/orders/:number/papers', ...helpers, handler: showPapers },
  { method: 'GET', path: '/orders/:number/packing-sheet.pdf', ...helpers, handler: packingSheetOfOrder },
  { method: 'GET', path: '/orders/:number/care-sheets.pdf', ...helpers, handler: careSheetsOfOrder },
  { method: 'GET', path: '/packing-sheets.pdf', ...helpers, handler: packingSheetsOfDay },
  { method: 'GET', path: '/species/:id/care-sheet.pdf', ...helpers, handler: careSheetOfSpecies },
  {
    method: 'GET',
    path: '/species/:id/care/:version/sheet.pdf',
    access: 'owner',
    nav: 'species',
    handler: careSheetOfVersion,
  },
];
