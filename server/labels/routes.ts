import type { RouteTable } from '../plumbing/route-table.ts';
import { askForSheet, chooseLabels } from './choose.ts';
import { labelsPdf, labelsPrinted, showSheet } from './print.ts';
import { openScanned } from './scan.ts';
import {
  addSheet,
  askEditSheet,
  askNewSheet,
  previewSheet,
  removeSheet,
  saveSheet,
  showSheets,
} from './sheets.ts';

const helper = { access: 'helper', nav: 'cultures' } as const;
const owner = { access: 'owner', nav: 'settings' } as const;

export const labelRoutes: RouteTable = [
  { method: 'GET', path: '/c/:code', access: 'helper', nav: 'round', handler: openScanned },
  { method: 'GET', path: '/labels', ...helper, handler: chooseLabels },
  { method: 'POST', path: '/labels', ...helper, handler: askForSheet },
  { method: 'GET', path: '/labels/sheet', ...helper, handler: showSheet },
  { method: 'GET', path: '/labels/sheet.pdf', ...helper, handler: labelsPdf },
  { method: 'POST', path: '/labels/printed', ...helper, handler: labelsPrinted },
  { method: 'GET', path: '/label-sheets', ...owner, handler: showSheets },
  { method: 'POST', path: '/label-sheets', ...owner, handler: addSheet },
  { method: 'GET', path: '/label-sheets/new', ...owner, handler: askNewSheet },
  { method: 'GET', path: '/label-sheets/preview', ...owner, handler: previewSheet },
  { method: 'GET', path: '/label-sheets/:id', ...owner, handler: askEditSheet },
  { method: 'POST', path: '/label-sheets/:id', ...owner, handler: saveSheet },
  { method: 'POST', path: '/label-sheets/:id/remove', ...owner, handler: removeSheet },
];
