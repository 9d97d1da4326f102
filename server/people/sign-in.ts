import { h } from 'preact';
import { signInForm } from '../../shared/people/form.ts';
import { safeNext } from '../../shared/people/next-path.ts';
import { emptyForm, type FormState } from '../../views/layout/form-state.ts';
import { SignInPage } from '../../views/people/page-sign-in.tsx';
import { type Answer, page, redirect } from '../plumbing/answers.ts';
import type { Call } from '../plumbing/call.ts';
import { readForm } from '../plumbing/forms.ts';
import { compareWithNobody, hashPassword, isCheaper, passwordMatches } from '../plumbing/passwords.ts';
import { withoutSecrets } from './choose-password.ts';
import { changePerson, findPerson, type PersonRow, personNamed } from './queries.ts';
import { beginTry, type Claim, takeTryBack, tryWasRight } from './queries-tries.ts';
import { letIn } from './sign-in-code.ts';
import { againFrom } from './try-again.ts';

const generic = 'This sign-in name and password do not belong together. Check both and try again.';

export function showSignIn(call: Call): Answer {
  const next = safeNext(call.query.next);
  if (call.who) return redirect(next ?? '/');
  return page(h(SignInPage, { furniture: call.furniture, form: emptyForm, next }));
}

function asksAgain(call: Call, form: FormState, errors: FormState['errors'], status: 422 | 429): Answer {
  const next = safeNext(typeof call.body.next === 'string' ? call.body.next : undefined);
  const shown = { ...withoutSecrets(form), errors };
  return page(h(SignInPage, { furniture: call.furniture, form: shown, next }), status);
}

export async function signIn(call: Call): Promise<Answer> {
  const read = readForm(signInForm, call.body);
  if (!read.ok) return asksAgain(call, read.form, read.form.errors, 422);
  const { signInName, password, next } = read.data;
  const claim: Claim = { signInName, address: call.address, knownDevice: call.knownDevice };
  const tried = beginTry(call.db, claim, call.clock.now());
  if (!tried.allowed) {
    call.log.warn({}, 'sign-in refused: too many tries');
    return asksAgain(call, read.form, { '': againFrom(call, tried.againAt) }, 429);
  }
  const person = await whoProved(call, signInName, password).catch((error: unknown) => {
    takeTryBack(call.db, tried);
    throw error;
  });
  if (!person) {
    call.log.warn({}, 'sign-in refused');
    return asksAgain(call, read.form, { '': generic }, 422);
  }
  tryWasRight(call.db, claim, tried, call.clock.now());
  return letIn(call, person, safeNext(next));
}

/** The person, if name and password belong together and the account is active; takes equally long for all others. */
async function whoProved(call: Call, signInName: string, password: string): Promise<PersonRow | null> {
  const person = personNamed(call.db, signInName);
  if (!person) {
    await compareWithNobody(password);
    return null;
  }
  if (!(await passwordMatches(person.passwordHash, password))) return null;
  const renewed = isCheaper(person.passwordHash) ? await hashPassword(password) : null;
  return stillProved(call, person, renewed);
}

/** Comparing takes a while; an account that was deactivated or given a reset meanwhile is not opened by the old password. */
function stillProved(call: Call, proved: PersonRow, renewed: string | null): PersonRow | null {
  const person = findPerson(call.db, proved.id);
  if (!person?.active || person.passwordHash !== proved.passwordHash) return null;
  if (renewed) changePerson(call.db, person.id, { passwordHash: renewed });
  return person;
}

export function signOut(call: Call): Answer {
  if (call.sessionId) call.sessions.end(call.sessionId);
  return redirect('/sign-in', null, [call.sessions.blankCookie()]);
}
