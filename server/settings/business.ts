import { h } from 'preact';
import { type BusinessForm, businessForm } from '../../shared/settings/form.ts';
import type { FormState } from '../../views/layout/form-state.ts';
import { BusinessPage } from '../../views/settings/page-business.tsx';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { changesBetween, note } from '../plumbing/audit.ts';
import type { Business, StaffCall } from '../plumbing/call.ts';
import { filledWith, isOvertaken, tooLate } from '../plumbing/edits.ts';
import { readForm } from '../plumbing/forms.ts';
import { readBusiness, saveBusiness } from './queries.ts';

function asForm({ name, id: _id, madeAt: _madeAt, ...rest }: Business): BusinessForm {
  return { businessName: name, ...rest };
}

function asRow({ businessName, ...rest }: BusinessForm): Omit<Business, 'id' | 'madeAt'> {
  return { name: businessName, ...rest };
}

const businessPage = ({ furniture }: StaffCall, form: FormState) => h(BusinessPage, { furniture, form });

export function showBusiness(call: StaffCall): Answer {
  return page(businessPage(call, filledWith(asForm(call.business))));
}

export function changeBusiness(call: StaffCall): Answer {
  const read = readForm(businessForm, call.body);
  if (!read.ok) return wrongForm(businessPage(call, read.form));
  const outcome = call.once((tx) => {
    const stored = readBusiness(tx);
    if (isOvertaken(call, asForm(stored))) return 'changed meanwhile';
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
  const late = tooLate(call, asForm(readBusiness(call.db)), { subject: 'business' });
  return page(businessPage(call, late), 409);
}
