import { h } from 'preact';
import { newPasswordForm } from '../../shared/people/form.ts';
import { emptyForm, type FormState } from '../../views/layout/form-state.ts';
import { ClosedPage } from '../../views/people/page-closed.tsx';
import { NewPasswordPage } from '../../views/people/page-new-password.tsx';
import { tellPerson } from '../mails/queries-tell-person.ts';
import { type Answer, page } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { Call } from '../plumbing/call.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import { hashPassword } from '../plumbing/passwords.ts';
import { endSessionsOf } from '../plumbing/sessions.ts';
import { passwordErrors, withoutSecrets } from './choose-password.ts';
import { changePerson, findPerson, type PersonRow } from './queries.ts';
import { type Link, openLink, spendLink } from './queries-links.ts';
import { forgetDevicesOf, forgetTries } from './queries-tries.ts';
import { letIn } from './sign-in-code.ts';
import { letInBefore } from './start-session.ts';

const closed = (call: Call): Answer =>
  page(h(ClosedPage, { furniture: call.furniture, why: 'reset-over' }), 410);

/** The link and whom it is for, as long as both still stand. */
function opened(call: Call, token: string): { link: Link; person: PersonRow } | null {
  const link = openLink(call.db, 'reset', token, call.clock.now());
  const person = link?.personId ? findPerson(call.db, link.personId) : undefined;
  return link && person?.active ? { link, person } : null;
}

const asks = (call: Call, person: PersonRow, token: string, form: FormState) =>
  h(NewPasswordPage, { furniture: call.furniture, form, token, signInName: person.signInName });

export function showNewPassword(call: Call): Answer {
  const token = call.query.token ?? '';
  const found = opened(call, token);
  return found ? page(asks(call, found.person, token, emptyForm)) : closed(call);
}

export async function setNewPassword(call: Call): Promise<Answer> {
  const token = typeof call.body.token === 'string' ? call.body.token : '';
  const found = opened(call, token);
  if (!found) return letInBefore(call, token) ?? closed(call);
  const { link, person } = found;
  const wrong = (form: FormState) => page(asks(call, person, token, withoutSecrets(form)), 422);

  const read = readForm(newPasswordForm, call.body);
  if (!read.ok) return wrong(read.form);
  const errors = passwordErrors(read.data, [person.name, person.signInName, call.business.name]);
  if (Object.keys(errors).length > 0) return wrong(withErrors(read.form, errors));

  const passwordHash = await hashPassword(read.data.password);
  const now = call.clock.now();
  const answer = call.db.transaction(
    (tx) => {
      if (!spendLink(tx, link.tokenHash, now)) return null;
      changePerson(tx, person.id, { passwordHash });
      endSessionsOf(tx, person.id);
      forgetDevicesOf(tx, person.id);
      forgetTries(tx, { signInName: person.signInName, address: call.address, knownDevice: null });
      note(tx, {
        at: now,
        personId: person.id,
        action: 'set a new password',
        subject: `person ${person.id}`,
      });
      tellPerson(tx, call, person, 'Password');
      return letIn(call, { ...person, passwordHash }, null, token);
    },
    { behavior: 'immediate' },
  );
  return answer ?? letInBefore(call, token) ?? closed(call);
}
