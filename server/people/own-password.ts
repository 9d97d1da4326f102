import { changePasswordForm } from '../../shared/people/form.ts';
import type { FormState } from '../../views/layout/form-state.ts';
import { tellPerson } from '../mails/queries-tell-person.ts';
import { type Answer, page, redirect } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { conflict, notFound } from '../plumbing/errors.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import { hashPassword, passwordMatches } from '../plumbing/passwords.ts';
import { endSessionsOf } from '../plumbing/sessions.ts';
import { accountPage } from './account.ts';
import { passwordErrors, withoutSecrets } from './choose-password.ts';
import { changePerson, findPerson } from './queries.ts';
import { beginTry, type Claim, tryWasRight } from './queries-tries.ts';
import { againFrom } from './try-again.ts';

const changed = () => redirect('/account', 'Your password is changed. Your other sessions have ended.');

export async function changeOwnPassword(call: StaffCall): Promise<Answer> {
  if (call.outcome()) return changed();
  const { who, business } = call;
  const wrong = (form: FormState, status: 422 | 429 = 422) =>
    page(accountPage(call, { password: withoutSecrets(form) }), status);

  const read = readForm(changePasswordForm, call.body);
  if (!read.ok) return wrong(read.form);
  const errors = passwordErrors(read.data, [who.name, who.signInName, business.name]);
  if (Object.keys(errors).length > 0) return wrong(withErrors(read.form, errors));

  // Whoever finds a browser left open must not be able to try passwords without end.
  const claim: Claim = { signInName: `change ${who.id}`, address: call.address, knownDevice: null };
  const tried = beginTry(call.db, claim, call.clock.now());
  if (!tried.allowed) {
    return wrong(withErrors(read.form, { current: againFrom(call, tried.againAt) }), 429);
  }
  const before = findPerson(call.db, who.id);
  if (!before) throw notFound('person');
  if (!(await passwordMatches(before.passwordHash, read.data.current)))
    return wrong(withErrors(read.form, { current: 'This is not your password.' }));

  const passwordHash = await hashPassword(read.data.password);
  call.once((tx) => {
    if (findPerson(tx, who.id)?.passwordHash !== before.passwordHash)
      throw conflict('Your password was changed from somewhere else just now. Nothing was changed here.');
    changePerson(tx, who.id, { passwordHash });
    endSessionsOf(tx, who.id, call.sessionId);
    tryWasRight(tx, claim, tried, call.clock.now());
    note(tx, {
      at: call.clock.now(),
      personId: who.id,
      action: 'changed own password',
      subject: `person ${who.id}`,
    });
    tellPerson(tx, call, before, 'Password');
    return { changed: true };
  });
  return changed();
}
