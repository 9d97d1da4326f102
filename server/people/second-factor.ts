import { h } from 'preact';
import { encodeQR } from 'qr';
import { codeForm, confirmCodeForm } from '../../shared/people/form.ts';
import { emptyForm, type FormState } from '../../views/layout/form-state.ts';
import type { AccountNews } from '../../views/mails/write.ts';
import { RecoveryCodesPage } from '../../views/people/page-recovery-codes.tsx';
import { SecondFactorPage } from '../../views/people/page-second-factor.tsx';
import { tellPerson } from '../mails/queries-tell-person.ts';
import { type Answer, page, redirect } from '../plumbing/answers.ts';
import { attempt } from '../plumbing/attempt.ts';
import { note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { conflict } from '../plumbing/errors.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import { passwordMatches } from '../plumbing/passwords.ts';
import { endSessionsOf } from '../plumbing/sessions.ts';
import { freshSecret, keyUri, recoveryCodesFor, stepOf, tidyCode } from './one-time-codes.ts';
import { findPerson } from './queries.ts';
import {
  beginFactor,
  confirmFactor,
  factorOf,
  keepRecoveryCodes,
  mustHave,
  recoveryCodesLeft,
  removeFactor,
  useCode,
} from './queries-second-factor.ts';
import { beginTry, type Claim, codeLimits, tryWasRight } from './queries-tries.ts';
import { againFrom } from './try-again.ts';

const wrongCode = 'This code is wrong, or was used before. Wait for the next one.';
const where = '/account/second-factor';

/** The picture for the phone's app and the same in letters, while it is being set up. */
function toScan(call: StaffCall, secret: string) {
  const uri = keyUri(secret, call.business.name, call.who.signInName);
  const picture = encodeQR(uri, 'data-url', { ecc: 'medium', border: 4, scale: 5 });
  return { picture, secret: (secret.match(/.{4}/g) ?? []).join(' ') };
}

function factorPage(call: StaffCall, form: FormState) {
  const factor = factorOf(call.db, call.who.id);
  return h(SecondFactorPage, {
    furniture: call.furniture,
    since: factor?.confirmedAt ?? null,
    open: factor && factor.confirmedAt === null ? toScan(call, factor.secret) : null,
    codesLeft: recoveryCodesLeft(call.db, call.who.id),
    mustHave: mustHave(call.db, call.who),
    form,
    timeZone: call.business.timeZone,
    locale: call.business.locale,
  });
}

export const showSecondFactor = (call: StaffCall): Answer => page(factorPage(call, emptyForm));

export function startSecondFactor(call: StaffCall): Answer {
  const now = call.clock.now();
  call.once((tx) => beginFactor(tx, call.who.id, freshSecret(), now));
  return redirect(where);
}

const secretsOf = { code: '', password: '' };

function asksAgain(call: StaffCall, form: FormState, errors: FormState['errors'], status: 422 | 429): Answer {
  const shown = withErrors({ ...form, values: { ...form.values, ...secretsOf } }, errors);
  return page(factorPage(call, shown), status);
}

function written(call: StaffCall, tx: Db, action: string, news: AccountNews) {
  note(tx, { at: call.clock.now(), personId: call.who.id, action, subject: `person ${call.who.id}` });
  tellPerson(tx, call, call.who, news);
}

/** Whoever finds a browser left open must know the password too before they tie the account to their own phone. */
export async function confirmSecondFactor(call: StaffCall): Promise<Answer> {
  const { db, who } = call;
  const codes = recoveryCodesFor(who.id, call.body.formKey);
  const shown = () => page(h(RecoveryCodesPage, { furniture: call.furniture, codes }));
  if (call.outcome()) return shown();
  const read = readForm(confirmCodeForm, call.body);
  if (!read.ok) return asksAgain(call, read.form, {}, 422);
  const factor = factorOf(db, who.id);
  if (!factor || factor.confirmedAt !== null) return redirect(where);
  const now = call.clock.now();
  const claim: Claim = { signInName: `change ${who.id}`, address: call.address, knownDevice: null };
  const tried = beginTry(db, claim, now);
  if (!tried.allowed) return asksAgain(call, read.form, { password: againFrom(call, tried.againAt) }, 429);
  const step = stepOf(factor.secret, tidyCode(read.data.code), now);
  if (!(await passwordMatches(findPerson(db, who.id)?.passwordHash ?? '', read.data.password)))
    return asksAgain(call, read.form, { password: 'This is not your password.' }, 422);
  if (step === null) return asksAgain(call, read.form, { code: wrongCode }, 422);
  call.once((tx) => {
    if (factorOf(tx, who.id)?.secret !== factor.secret || !confirmFactor(tx, who.id, step, now))
      throw conflict('This was set up from somewhere else just now. Nothing was changed here.');
    keepRecoveryCodes(tx, who.id, codes, now);
    endSessionsOf(tx, who.id, call.sessionId);
    tryWasRight(tx, claim, tried, now);
    written(call, tx, 'turned on a code at sign-in', 'CodeOn');
    return { on: true };
  });
  return shown();
}

/** What may be done only with a code at hand: once for a form, five wrong codes in a quarter of an hour. */
async function withCode(call: StaffCall, work: (tx: Db) => void, done: () => Answer): Promise<Answer> {
  if (call.outcome()) return done();
  const read = readForm(codeForm, call.body);
  if (!read.ok) return asksAgain(call, read.form, read.form.errors, 422);
  const now = call.clock.now();
  const { address, knownDevice } = call;
  const { id: personId } = call.who;
  const claim: Claim = { signInName: `code ${personId}`, personId, address, knownDevice };
  const tried = beginTry(call.db, claim, now, codeLimits);
  if (!tried.allowed) return asksAgain(call, read.form, { code: againFrom(call, tried.againAt) }, 429);
  const tryIt = attempt(call, (tx, stop) => {
    if (!useCode(tx, call.who.id, read.data.code, now)) stop('wrong');
    work(tx);
    tryWasRight(tx, claim, tried, now);
    return { done: true };
  });
  return 'why' in tryIt ? asksAgain(call, read.form, { code: wrongCode }, 422) : done();
}

export function renewRecoveryCodes(call: StaffCall): Promise<Answer> {
  const codes = recoveryCodesFor(call.who.id, call.body.formKey);
  return withCode(
    call,
    (tx) => {
      keepRecoveryCodes(tx, call.who.id, codes, call.clock.now());
      written(call, tx, 'made new recovery codes', 'Codes');
    },
    () => page(h(RecoveryCodesPage, { furniture: call.furniture, codes })),
  );
}

export function stopSecondFactor(call: StaffCall): Promise<Answer> {
  return withCode(
    call,
    (tx) => {
      if (mustHave(tx, call.who)) throw conflict('Your business asks everybody in your role for a code.');
      removeFactor(tx, call.who.id);
      endSessionsOf(tx, call.who.id, call.sessionId);
      written(call, tx, 'turned off the code at sign-in', 'CodeOff');
    },
    () => redirect('/account', 'You sign in with your password alone from now on.'),
  );
}
