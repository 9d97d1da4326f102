import { h } from 'preact';
import { ownerForm } from '../../shared/people/form.ts';
import { likelyLanguage } from '../../shared/settings/languages.ts';
import { likelyNumberForm } from '../../shared/settings/regions.ts';
import type { FormState } from '../../views/layout/form-state.ts';
import { ClosedPage } from '../../views/people/page-closed.tsx';
import { SetUpPage } from '../../views/people/page-set-up.tsx';
import { type Answer, page, redirect } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { Call } from '../plumbing/call.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import { hashPassword } from '../plumbing/passwords.ts';
import { freshToken } from '../plumbing/sessions.ts';
import { isSetUp, saveBusiness } from '../settings/queries.ts';
import { readFirst, usualFor, yearOf } from './as-usual-there.ts';
import { passwordErrors, withoutSecrets } from './choose-password.ts';
import { addPerson } from './queries.ts';
import { addLink, openLink, spendLink, withdrawSetUpLinks } from './queries-links.ts';
import { letInBefore, startSession } from './start-session.ts';

/** At each start without an owner: a new one-time link; the one before opens nothing any more. */
export function renewSetUpLink(db: Db, now: number): string | null {
  return db.transaction((tx) => {
    withdrawSetUpLinks(tx);
    if (isSetUp(tx)) return null;
    const token = freshToken();
    addLink(tx, { token, purpose: 'set-up', now });
    return token;
  });
}

function closed(call: Call, token: string): Answer {
  const { furniture } = call;
  if (isSetUp(call.db)) return page(h(ClosedPage, { furniture, why: 'set-up-done' }), 410);
  if (token === '') return page(h(ClosedPage, { furniture, why: 'set-up-needs-link' }));
  return page(h(ClosedPage, { furniture, why: 'set-up-link-over' }), 403);
}

const fieldsByCountry = ['country', 'timeZone', 'currency', 'units', 'paper'] as const;

/** The page asks itself again when a country is chosen, with what was chosen so far: then it says what is usual there. */
export function showSetUp(call: Call): Answer {
  const token = call.query.token ?? '';
  if (isSetUp(call.db) || !openLink(call.db, 'set-up', token, call.clock.now())) return closed(call, token);
  const values = Object.fromEntries(fieldsByCountry.map((name) => [name, call.query[name] ?? '']));
  return setUpPage(call, { values, errors: {} }, token);
}

function setUpPage(call: Call, form: FormState, token: string, status = 200): Answer {
  const usual = usualFor(String(form.values.country ?? ''), yearOf(call));
  return page(h(SetUpPage, { furniture: call.furniture, form, token, usual }), status);
}

export async function setUp(call: Call): Promise<Answer> {
  const token = typeof call.body.token === 'string' ? call.body.token : '';
  const now = call.clock.now();
  const link = isSetUp(call.db) ? null : openLink(call.db, 'set-up', token, now);
  if (!link) return letInBefore(call, token) ?? closed(call, token);
  const wrong = (form: FormState) => setUpPage(call, withoutSecrets(form), token, 422);

  const owner = readForm(ownerForm, call.body);
  const first = readFirst(call);
  const form = withErrors(owner.form, first.form.errors);
  if (!owner.ok || !first.ok) return wrong(form);
  const { name, signInName } = owner.data;
  const errors = passwordErrors(owner.data, [name, signInName, first.data.businessName]);
  if (Object.keys(errors).length > 0) return wrong(withErrors(form, errors));

  const id = crypto.randomUUID();
  const passwordHash = await hashPassword(owner.data.password);
  const { businessName, ...rest } = first.data;
  const business = {
    ...rest,
    name: businessName,
    address: '',
    email: '',
    locale: likelyNumberForm(rest.country),
    language: likelyLanguage(rest.country),
  };
  const cookies = call.db.transaction(
    (tx) => {
      if (isSetUp(tx) || !spendLink(tx, link.tokenHash, now)) return null;
      addPerson(tx, { id, signInName, name, role: 'owner', passwordHash, madeAt: now });
      saveBusiness(tx, business, now);
      note(tx, { at: now, personId: id, action: 'set up', subject: 'business', after: business });
      return startSession(call, id, { token, to: '/' });
    },
    { behavior: 'immediate' },
  );
  if (!cookies) return letInBefore(call, token) ?? closed(call, token);
  return redirect('/', null, cookies);
}
