import { h } from 'preact';
import { type BusinessForm, businessForm } from '../../shared/settings/form.ts';
import { differencesBetween } from '../../views/layout/differences.ts';
import type { FormState } from '../../views/layout/form-state.ts';
import { allBusinessLabels, BusinessPage } from '../../views/settings/page-business.tsx';
import { type Answer, page, redirect } from '../plumbing/answers.ts';
import { changesBetween, note } from '../plumbing/audit.ts';
import type { Business, StaffCall } from '../plumbing/call.ts';
import { fingerprintOf, lastSaved } from '../plumbing/edits.ts';
import { readForm } from '../plumbing/forms.ts';
import { readBusiness, saveBusiness } from './queries.ts';

type Values = Omit<BusinessForm, 'seen'>;

function asForm({ name, id: _id, madeAt: _madeAt, ...rest }: Business): Values {
  return { businessName: name, ...rest };
}

function asRow({ businessName, seen: _seen, ...rest }: BusinessForm): Omit<Business, 'id' | 'madeAt'> {
  return { name: businessName, ...rest };
}

export function showBusiness({ furniture, business }: StaffCall): Answer {
  const form: FormState = { values: asForm(business), errors: {} };
  return page(h(BusinessPage, { furniture, form, seen: fingerprintOf(asForm(business)) }));
}

export function changeBusiness(call: StaffCall): Answer {
  const { furniture } = call;
  const read = readForm(businessForm, call.body);
  if (!read.ok) {
    const seen = typeof call.body.seen === 'string' ? call.body.seen.slice(0, 64) : '';
    return page(h(BusinessPage, { furniture, form: read.form, seen }), 422);
  }
  const outcome = call.once((tx) => {
    const stored = readBusiness(tx);
    if (fingerprintOf(asForm(stored)) !== read.data.seen) return 'changed meanwhile';
    const row = asRow(read.data);
    saveBusiness(tx, row, call.clock.now());
    const { before, after } = changesBetween(stored, row);
    if (Object.keys(after).length > 0) {
      const at = call.clock.now();
      note(tx, { at, personId: call.who.id, action: 'changed settings', subject: 'business', before, after });
    }
    return 'saved';
  });
  if (outcome === 'saved') return redirect('/settings', 'Saved.');
  const now = readBusiness(call.db);
  const meanwhile = {
    ...lastSaved(call.db, 'business', now),
    differences: differencesBetween(asForm(now), read.form.values, allBusinessLabels),
  };
  const seen = fingerprintOf(asForm(now));
  return page(h(BusinessPage, { furniture, form: read.form, seen, meanwhile }), 409);
}
