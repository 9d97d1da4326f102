import { h } from 'preact';
import { codeForm } from '../../shared/people/form.ts';
import { safeNext } from '../../shared/people/next-path.ts';
import { emptyForm, type FormState } from '../../views/layout/form-state.ts';
import { CodePage } from '../../views/people/page-code.tsx';
import { type Answer, page, redirect } from '../plumbing/answers.ts';
import type { Call } from '../plumbing/call.ts';
import { readForm } from '../plumbing/forms.ts';
import { freshToken } from '../plumbing/sessions.ts';
import type { PersonRow } from './queries.ts';
import { beginHalf, endHalf, halfOf, isAsked, useCode } from './queries-second-factor.ts';
import { beginTry, type Claim, codeLimits, tryWasRight } from './queries-tries.ts';
import { letInBefore, startSession } from './start-session.ts';
import { againFrom } from './try-again.ts';

/** Lets somebody in whose password was right, or whose link to a new one was, or asks for their code first. */
export function letIn(call: Call, person: PersonRow, next: string | null, linkToken?: string): Answer {
  if (!isAsked(call.db, person.id)) {
    call.log.info({ personId: person.id }, 'signed in');
    const to = next ?? '/';
    const proof = linkToken === undefined ? undefined : { token: linkToken, to };
    return redirect(to, null, startSession(call, person.id, proof));
  }
  const token = freshToken();
  beginHalf(call.db, token, person, call.clock.now());
  return page(h(CodePage, { furniture: call.furniture, form: emptyForm, token, next }));
}

/** Asked for by itself there is nothing to type a code for. */
export const showCode = (): Answer => redirect('/sign-in');

export function signInWithCode(call: Call): Answer {
  const { token, next, ...read } = readParts(call);
  const now = call.clock.now();
  const person = halfOf(call.db, token, now);
  if (!person) return letInBefore(call, token) ?? redirect('/sign-in');
  const asksAgain = (form: FormState, code: string, status: 422 | 429) =>
    page(
      h(CodePage, {
        furniture: call.furniture,
        form: { ...form, values: {}, errors: { code } },
        token,
        next,
      }),
      status,
    );
  if (!read.ok) return asksAgain(read.form, 'Type the code.', 422);
  const { id: personId } = person;
  const { address, knownDevice } = call;
  const claim: Claim = { signInName: `code ${personId}`, personId, address, knownDevice };
  const tried = beginTry(call.db, claim, now, codeLimits);
  if (!tried.allowed) return asksAgain(read.form, againFrom(call, tried.againAt), 429);
  const done = call.db.transaction(
    (tx) => {
      const used = useCode(tx, person.id, read.data.code, now);
      if (!used || !endHalf(tx, token)) return null;
      tryWasRight(tx, claim, tried, now);
      const to = used === 'recovery' ? '/account/second-factor' : (next ?? '/');
      return { used, to, cookies: startSession(call, person.id, { token, to }) };
    },
    { behavior: 'immediate' },
  );
  if (!done) {
    call.log.warn({}, 'sign-in refused: wrong code');
    return asksAgain(read.form, 'This code is wrong, or was used before. Wait for the next one.', 422);
  }
  const { used, to, cookies } = done;
  call.log.info({ personId, used }, 'signed in with a code');
  return redirect(to, null, cookies);
}

function readParts(call: Call) {
  const { body } = call;
  const text = (name: string) => (typeof body[name] === 'string' ? (body[name] as string) : '');
  return { ...readForm(codeForm, body), token: text('token').slice(0, 100), next: safeNext(text('next')) };
}
