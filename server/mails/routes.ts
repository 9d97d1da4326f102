import type { RouteTable } from '../plumbing/route-table.ts';
import { again, stop, test } from './act.ts';
import { showMail, showMails } from './show.ts';

const owner = { access: 'owner', nav: 'orders' } as const;

export const mailRoutes: RouteTable = [
  { method: 'GET', path: '/mails', ...owner, shows: 'mails', handler: showMails },
  { method: 'POST', path: '/mails/test', ...owner, handler: test },
  { method: 'GET', path: '/mails/:id', ...owner, shows: 'mail :id', handler: showMail },
  { method: 'POST', path: '/mails/:id/again', ...owner, handler: again },
  { method: 'POST', path: '/mails/:id/stop', ...owner, handler: stop },
];
