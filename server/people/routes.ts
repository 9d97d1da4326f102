import type { RouteTable } from '../plumbing/route-table.ts';
import { endOtherSessions, endOwnSession, saveAccount, showAccount } from './account.ts';
import { checkChanges, downloadChanges, showChanges } from './changes.ts';
import { showFirstPage } from './first-page.ts';
import { acceptInvitation, showInvitation } from './invitation.ts';
import { invite, showInvite } from './invite.ts';
import { setNewPassword, showNewPassword } from './new-password.ts';
import { changeOwnPassword } from './own-password.ts';
import { setWhoMust, showPeople, withdraw } from './people-list.ts';
import {
  activate,
  changeRole,
  deactivate,
  endSessions,
  removeSecondFactor,
  reset,
  showPerson,
} from './person.ts';
import { downloadReads, showReads } from './reads.ts';
import {
  confirmSecondFactor,
  renewRecoveryCodes,
  showSecondFactor,
  startSecondFactor,
  stopSecondFactor,
} from './second-factor.ts';
import { setUp, showSetUp } from './set-up.ts';
import { showSignIn, signIn, signOut } from './sign-in.ts';
import { showCode, signInWithCode } from './sign-in-code.ts';

const account = { access: 'helper', nav: 'account' } as const;
/** What somebody may do who is asked for a second factor and has none yet. */
const factor = { ...account, beforeSecondFactor: true } as const;
const people = { access: 'owner', nav: 'people' } as const;

const changes = { access: 'owner', nav: 'settings' } as const;

export const peopleRoutes: RouteTable = [
  { method: 'GET', path: '/', access: 'anyone', handler: showFirstPage },
  { method: 'GET', path: '/set-up', access: 'anyone', beforeSetUp: true, handler: showSetUp },
  { method: 'POST', path: '/set-up', access: 'anyone', beforeSetUp: true, handler: setUp },
  { method: 'GET', path: '/sign-in', access: 'anyone', handler: showSignIn },
  { method: 'POST', path: '/sign-in', access: 'anyone', handler: signIn },
  { method: 'GET', path: '/sign-in/code', access: 'anyone', handler: showCode },
  { method: 'POST', path: '/sign-in/code', access: 'anyone', handler: signInWithCode },
  { method: 'POST', path: '/sign-out', access: 'anyone', handler: signOut },
  { method: 'GET', path: '/invitation', access: 'anyone', handler: showInvitation },
  { method: 'POST', path: '/invitation', access: 'anyone', handler: acceptInvitation },
  { method: 'GET', path: '/new-password', access: 'anyone', handler: showNewPassword },
  { method: 'POST', path: '/new-password', access: 'anyone', handler: setNewPassword },

  { method: 'GET', path: '/account', ...account, handler: showAccount },
  { method: 'POST', path: '/account', ...account, handler: saveAccount },
  { method: 'POST', path: '/account/password', ...account, handler: changeOwnPassword },
  { method: 'GET', path: '/account/second-factor', ...factor, handler: showSecondFactor },
  { method: 'POST', path: '/account/second-factor', ...factor, handler: confirmSecondFactor },
  { method: 'POST', path: '/account/second-factor/start', ...factor, handler: startSecondFactor },
  { method: 'POST', path: '/account/second-factor/codes', ...account, handler: renewRecoveryCodes },
  { method: 'POST', path: '/account/second-factor/stop', ...account, handler: stopSecondFactor },
  { method: 'POST', path: '/account/sessions/end-others', ...account, handler: endOtherSessions },
  { method: 'POST', path: '/account/sessions/:id/end', ...account, handler: endOwnSession },

  { method: 'GET', path: '/people', ...people, handler: showPeople },
  { method: 'POST', path: '/people/second-factor', ...people, handler: setWhoMust },
  { method: 'GET', path: '/people/invite', ...people, handler: showInvite },
  { method: 'POST', path: '/people/invite', ...people, handler: invite },
  { method: 'POST', path: '/people/invitations/:key/withdraw', ...people, handler: withdraw },
  { method: 'GET', path: '/settings/changes', ...changes, shows: 'record of changes', handler: showChanges },
  {
    method: 'GET',
    path: '/settings/changes.csv',
    ...changes,
    shows: 'record of changes',
    handler: downloadChanges,
  },
  { method: 'GET', path: '/settings/reads', ...changes, handler: showReads },
  { method: 'GET', path: '/settings/reads.csv', ...changes, handler: downloadReads },
  { method: 'GET', path: '/settings/changes/check', ...changes, handler: checkChanges },
  { method: 'GET', path: '/people/:id', ...people, shows: 'person :id', handler: showPerson },
  { method: 'POST', path: '/people/:id/role', ...people, handler: changeRole },
  { method: 'POST', path: '/people/:id/reset', ...people, handler: reset },
  { method: 'POST', path: '/people/:id/second-factor/remove', ...people, handler: removeSecondFactor },
  { method: 'POST', path: '/people/:id/end-sessions', ...people, handler: endSessions },
  { method: 'POST', path: '/people/:id/deactivate', ...people, handler: deactivate },
  { method: 'POST', path: '/people/:id/activate', ...people, handler: activate },
];
