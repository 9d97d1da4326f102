import type { RouteTable } from '../plumbing/route-table.ts';
import { endOtherSessions, endOwnSession, saveAccount, showAccount } from './account.ts';
import { showFirstPage } from './first-page.ts';
import { acceptInvitation, showInvitation } from './invitation.ts';
import { invite, showInvite } from './invite.ts';
import { setNewPassword, showNewPassword } from './new-password.ts';
import { changeOwnPassword } from './own-password.ts';
import { showPeople, withdraw } from './people-list.ts';
import { activate, changeRole, deactivate, endSessions, reset, showPerson } from './person.ts';
import { setUp, showSetUp } from './set-up.ts';
import { showSignIn, signIn, signOut } from './sign-in.ts';

const account = { access: 'helper', nav: 'account' } as const;
const people = { access: 'owner', nav: 'people' } as const;

export const peopleRoutes: RouteTable = [
  { method: 'GET', path: '/', access: 'anyone', handler: showFirstPage },
  { method: 'GET', path: '/set-up', access: 'anyone', beforeSetUp: true, handler: showSetUp },
  { method: 'POST', path: '/set-up', access: 'anyone', beforeSetUp: true, handler: setUp },
  { method: 'GET', path: '/sign-in', access: 'anyone', handler: showSignIn },
  { method: 'POST', path: '/sign-in', access: 'anyone', handler: signIn },
  { method: 'POST', path: '/sign-out', access: 'anyone', handler: signOut },
  { method: 'GET', path: '/invitation', access: 'anyone', handler: showInvitation },
  { method: 'POST', path: '/invitation', access: 'anyone', handler: acceptInvitation },
  { method: 'GET', path: '/new-password', access: 'anyone', handler: showNewPassword },
  { method: 'POST', path: '/new-password', access: 'anyone', handler: setNewPassword },

  { method: 'GET', path: '/account', ...account, handler: showAccount },
  { method: 'POST', path: '/account', ...account, handler: saveAccount },
  { method: 'POST', path: '/account/password', ...account, handler: changeOwnPassword },
  { method: 'POST', path: '/account/sessions/end-others', ...account, handler: endOtherSessions },
  { method: 'POST', path: '/account/sessions/:id/end', ...account, handler: endOwnSession },

  { method: 'GET', path: '/people', ...people, handler: showPeople },
  { method: 'GET', path: '/people/invite', ...people, handler: showInvite },
  { method: 'POST', path: '/people/invite', ...people, handler: invite },
  { method: 'POST', path: '/people/invitations/:key/withdraw', ...people, handler: withdraw },
  { method: 'GET', path: '/people/:id', ...people, handler: showPerson },
  { method: 'POST', path: '/people/:id/role', ...people, handler: changeRole },
  { method: 'POST', path: '/people/:id/reset', ...people, handler: reset },
  { method: 'POST', path: '/people/:id/end-sessions', ...people, handler: endSessions },
  { method: 'POST', path: '/people/:id/deactivate', ...people, handler: deactivate },
  { method: 'POST', path: '/people/:id/activate', ...people, handler: activate },
];
