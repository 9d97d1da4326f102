import { limits } from '../../shared/records/limits.ts';
import type { RouteTable } from '../plumbing/route-table.ts';
import { bringIn, throwAway } from './bring-in.ts';
import { downloadLeftOut, downloadMapping, downloadNotBroughtIn } from './downloads.ts';
import { exportFile } from './export.ts';
import { askUndo, showImport, undo } from './imports.ts';
import { askMend, saveMend } from './mend.ts';
import { sayLeftOut, saySomething, takeMapping } from './say.ts';
import { sayStock } from './say-stock.ts';
import { showPreview } from './show-preview.ts';
import { showRecords } from './start.ts';
import { takeFiles } from './upload.ts';

const owners = { access: 'owner', nav: 'records' } as const;
const upload = { maxBytes: limits.bytes };
const draft = '/records/drafts/:key';
const file = `${draft}/files/:number`;
const brought = '/records/imports/:id';

export const recordRoutes: RouteTable = [
  { method: 'GET', path: '/records', ...owners, handler: showRecords },
  { method: 'POST', path: '/records/drafts', ...owners, upload, handler: takeFiles },
  { method: 'GET', path: draft, ...owners, handler: showPreview },
  { method: 'POST', path: file, ...owners, handler: saySomething },
  { method: 'GET', path: `${file}/rows/:line`, ...owners, handler: askMend },
  { method: 'POST', path: `${file}/rows/:line`, ...owners, handler: saveMend },
  { method: 'GET', path: `${file}/not-brought-in.csv`, ...owners, handler: downloadNotBroughtIn },
  { method: 'POST', path: `${draft}/left-out`, ...owners, handler: sayLeftOut },
  { method: 'POST', path: `${draft}/stock`, ...owners, handler: sayStock },
  { method: 'GET', path: `${draft}/mapping.json`, ...owners, handler: downloadMapping },
  { method: 'POST', path: `${draft}/mapping`, ...owners, upload, handler: takeMapping },
  { method: 'POST', path: `${draft}/bring-in`, ...owners, handler: bringIn },
  { method: 'POST', path: `${draft}/throw-away`, ...owners, handler: throwAway },
  { method: 'GET', path: brought, ...owners, handler: showImport },
  { method: 'GET', path: `${brought}/files/:number/left-out.csv`, ...owners, handler: downloadLeftOut },
  { method: 'GET', path: `${brought}/undo`, ...owners, handler: askUndo },
  { method: 'POST', path: `${brought}/undo`, ...owners, handler: undo },
  { method: 'GET', path: '/records/export/:file', ...owners, handler: exportFile },
];
