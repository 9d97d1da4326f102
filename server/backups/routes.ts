import type { RouteTable } from '../plumbing/route-table.ts';
import { backUpNow, showBackups } from './show.ts';

const settings = { access: 'owner', nav: 'settings' } as const;

export const backupRoutes: RouteTable = [
  { method: 'GET', path: '/settings/backups', ...settings, handler: showBackups },
  { method: 'POST', path: '/settings/backups', ...settings, handler: backUpNow },
];
