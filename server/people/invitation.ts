import { h } from 'preact';
import { joinForm } from '../../shared/people/form.ts';
import type { FormState } from '../../views/layout/form-state.ts';
import { ClosedPage } from '../../views/people/page-closed.tsx';
import { JoinPage } from '../../views/people/page-join.tsx';
import { type Answer, page, redirect } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { Call } from '../plumbing/call.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import { hashPassword } from '../plumbing/passwords.ts';
import { passwordErrors, withoutSecrets } from './choose-password.ts';
import { addPerson, personNamed } from './queries.ts';
import { type Link, openLink, spendLink } from './queries-links.ts';
import { letInBefore, startSession } from './start-session.ts';

const closed = (call: Call): Answer =>
  page(h(ClosedPage, { furniture: call.furniture, why: 'invitation-over' }), 410);

const asks = (call: Call, link: Link, token: string, form: FormState) =>
  h(JoinPage, { furniture: call.furniture, form, token, role: link.role ?? 'helper' });

export function showInvitation(call: Call): Answer {
  const token = call.query.token ?? '';
  const link = openLink(call.db, 'invitation', token, call.clock.now());
  if (!link) return closed(call);
  return page(asks(call, link, token, { values: { name: link.name ?? '' }, errors: {} }));
}

export async function acceptInvitation(call: Call): Promise<Answer> {
  const token = typeof call.body.token === 'string' ? call.body.token : '';
  const now = call.clock.now();
  const link = openLink(call.db, 'invitation', token, now);
  if (!link) return letInBefore(call, token) ?? closed(call);
  const wrong = (form: FormState) => page(asks(call, link, token, withoutSecrets(form)), 422);

  const read = readForm(joinForm, call.body);
  if (!read.ok) return wrong(read.form);
  const { name, signInName, password } = read.data;
  const errors = passwordErrors(read.data, [name, signInName, call.business.name]);
  if (personNamed(call.db, signInName))
    errors.signInName = 'Somebody here has this name already. Choose another.';
  if (Object.keys(errors).length > 0) return wrong(withErrors(read.form, errors));

  const id = crypto.randomUUID();
  const passwordHash = await hashPassword(password);
  const role = link.role ?? 'helper';
  const outcome = call.db.transaction(
    (tx) => {
      if (personNamed(tx, signInName)) return 'name taken';
      if (!spendLink(tx, link.tokenHash, now)) return 'link over';
      addPerson(tx, { id, signInName, name, role, passwordHash, madeAt: now, madeBy: link.madeBy });
      note(tx, {
        at: now,
        personId: id,
        action: 'joined',
        subject: `person ${id}`,
        after: { name, signInName, role },
      });
      return startSession(call, id, { token, to: '/' });
    },
    { behavior: 'immediate' },
  );
  if (typeof outcome === 'object') return redirect('/', null, outcome);
  const again = letInBefore(call, token);
  if (again) return again;
  if (outcome === 'link over') return closed(call);
  return wrong(withErrors(read.form, { signInName: 'Somebody here has this name already. Choose another.' }));
}
