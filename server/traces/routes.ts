import type { RouteTable } from '../plumbing/route-table.ts';
import { addContact, takeContactOut } from './contacts.ts';
import { markTold, showNotices } from './notices.ts';
import { showTrace } from './page.ts';
import { quarantineTraced, undoQuarantine } from './quarantine.ts';

const nav = 'cultures';
const contacts = '/cultures/:code/contacts';
const path = '/cultures/:code/trace';

export const traceRoutes: RouteTable = [
  { method: 'GET', path, access: 'helper', nav, handler: showTrace },
  { method: 'POST', path: `${path}/quarantine`, access: 'owner', nav, handler: quarantineTraced },
  { method: 'POST', path: `${path}/undo`, access: 'owner', nav, handler: undoQuarantine },
  { method: 'GET', path: `${path}/notices`, access: 'owner', nav, handler: showNotices },
  { method: 'POST', path: `${path}/notices`, access: 'owner', nav, handler: markTold },
  { method: 'POST', path: contacts, access: 'helper', nav, handler: addContact },
  { method: 'POST', path: `${contacts}/:id/withdraw`, access: 'helper', nav, handler: takeContactOut },
];
