import { h } from 'preact';
import { accountForm } from '../../shared/people/form.ts';
import { emptyForm, type FormState } from '../../views/layout/form-state.ts';
import { AccountPage } from '../../views/people/page-account.tsx';
import { feedOf } from '../calendar/queries.ts';
import { type Answer, page, redirect } from '../plumbing/answers.ts';
import { changesBetween, note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { filledWith, isOvertaken, type Outcome, overtaken, saved, tooLate } from '../plumbing/edits.ts';
import { notFound } from '../plumbing/errors.ts';
import { readForm } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import { endSessionsOf } from '../plumbing/sessions.ts';
import { changePerson, findPerson } from './queries.ts';
import { isAsked } from './queries-second-factor.ts';
import { endSession, openSessionsOf } from './queries-sessions.ts';

/** What somebody says of themselves. They may have two windows open. */
function ownNow({ who }: StaffCall, db: Db) {
  const { name, scheme } = findPerson(db, who.id) ?? who;
  return { name, scheme };
}

/** The account page with one of its forms as it came back. */
export function accountPage(call: StaffCall, forms: { own?: FormState; password?: FormState } = {}) {
  const { who, business, furniture } = call;
  const sessions = openSessionsOf(call.db, who.id, call.clock.now()).map((session) => ({
    ...session,
    isThis: session.id === call.sessionId,
  }));
  return h(AccountPage, {
    furniture,
    who,
    own: forms.own ?? filledWith(ownNow(call, call.db)),
    password: forms.password ?? emptyForm,
    sessions,
    hasCode: isAsked(call.db, who.id),
    calendar: feedOf(call.db, who.id) ?? null,
    timeZone: business.timeZone,
    locale: business.locale,
  });
}

export const showAccount = (call: StaffCall): Answer => page(accountPage(call));

export function saveAccount(call: StaffCall): Answer {
  const read = readForm(accountForm, call.body);
  if (!read.ok) return page(accountPage(call, { own: read.form }), 422);
  const { who } = call;
  const outcome = call.once((tx): Outcome => {
    if (isOvertaken(call, ownNow(call, tx))) return overtaken;
    changePerson(tx, who.id, read.data);
    const { before, after } = changesBetween({ name: who.name }, { name: read.data.name });
    if (after.name !== undefined) {
      note(tx, {
        at: call.clock.now(),
        personId: who.id,
        action: 'changed own name',
        subject: `person ${who.id}`,
        before,
        after,
      });
    }
    return saved;
  });
  if (outcome.overtaken) {
    const stored = ownNow(call, call.db);
    const late = tooLate(call, stored, { subject: `person ${who.id}` });
    const meanwhile = { stored, savedBy: 'You', savedWhen: 'in another window' };
    return page(accountPage(call, { own: { ...late, meanwhile } }), 409);
  }
  return redirect('/account', 'Saved.');
}

export function endOwnSession(call: StaffCall): Answer {
  const id = call.params.id ?? '';
  if (id === call.sessionId) {
    call.sessions.end(id);
    return redirect('/sign-in', null, [call.sessions.blankCookie()]);
  }
  const ended = call.once((tx) => endSession(tx, call.who.id, id));
  if (!ended) throw notFound('session');
  return redirect('/account', 'That session has ended.');
}

export function endOtherSessions(call: StaffCall): Answer {
  const ended = call.once((tx) => endSessionsOf(tx, call.who.id, call.sessionId));
  return redirect(
    '/account',
    ended === 1 ? '1 other session has ended.' : `${ended} other sessions have ended.`,
  );
}
