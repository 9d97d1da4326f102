import { h } from 'preact';
import { invoicingForm, missingForExempt, wayForm } from '../../shared/invoices/form.ts';
import { InvoicingPage } from '../../views/invoices/page-invoicing.tsx';
import { emptyForm, type FormState } from '../../views/layout/form-state.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { changesBetween, note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { filledWith, isOvertaken, type Outcome, overtaken, saved, tooLate } from '../plumbing/edits.ts';
import { conflict, notFound } from '../plumbing/errors.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import { countInvoices } from './queries.ts';
import {
  type Invoicing,
  insertWay,
  listRates,
  listWays,
  readInvoicing,
  readWay,
  saveInvoicing,
  setWayRetired,
  wayNamed,
} from './queries-invoicing.ts';

const address = '/settings/invoices';

const everything = (today: string) => ({ show: 'all' as const, from: null, to: null, today });

function keptNow(db: Db) {
  const stored = readInvoicing(db);
  return { ...stored, exempt: stored.exempt ? 'yes' : '' };
}

function settingsPage(call: StaffCall, back: { form?: FormState; way?: FormState } = {}) {
  const { db, furniture, today } = call;
  return h(InvoicingPage, {
    furniture,
    form: back.form ?? filledWith(keptNow(db)),
    wayForm: { ...(back.way ?? emptyForm), id: 'way' },
    hasInvoices: countInvoices(db, everything(today)) > 0,
    rates: listRates(db),
    ways: listWays(db),
    today,
  });
}

export const askInvoicing = (call: StaffCall): Answer => page(settingsPage(call));

export function changeInvoicing(call: StaffCall): Answer {
  const read = readForm(invoicingForm, call.body);
  if (!read.ok) return wrongForm(settingsPage(call, { form: read.form }));
  const missing = missingForExempt(read.data);
  if (Object.keys(missing).length > 0)
    return wrongForm(settingsPage(call, { form: withErrors(read.form, missing) }));
  const values: Invoicing = { ...read.data, exempt: read.data.exempt === 'yes' };
  const at = call.clock.now();
  const about = { action: 'changed', subject: 'invoicing' };
  const outcome = call.once((tx): Outcome => {
    if (isOvertaken(call, keptNow(tx))) return overtaken;
    const changes = changesBetween<Record<string, unknown>>(readInvoicing(tx), values);
    saveInvoicing(tx, values);
    note(tx, { at, personId: call.who.id, ...about, ...changes });
    return saved;
  });
  if (!outcome.overtaken) return redirect(address, 'Saved.');
  return page(settingsPage(call, { form: tooLate(call, keptNow(call.db), about) }), 409);
}

export function addWay(call: StaffCall): Answer {
  const read = readForm(wayForm, call.body);
  if (!read.ok) return wrongForm(settingsPage(call, { way: read.form }));
  const { name } = read.data;
  const at = call.clock.now();
  const isAdded = call.once((tx) => {
    if (wayNamed(tx, name)) return false;
    const subject = `way of paying ${insertWay(tx, name)}`;
    note(tx, { at, personId: call.who.id, action: 'added', subject, after: { name } });
    return true;
  });
  const taken = { name: 'There is a way with this name already.' };
  if (!isAdded) return wrongForm(settingsPage(call, { way: withErrors(read.form, taken) }));
  return redirect(`${address}#ways`, `${name} is added.`);
}

function setRetired(call: StaffCall, retired: boolean): Answer {
  const id = numberIn(call, 'id', 'way of paying');
  const at = call.clock.now();
  call.once((tx) => {
    if (!readWay(tx, id)) throw notFound('way of paying');
    if (retired && listWays(tx).filter((way) => way.retiredAt === null).length === 1)
      throw conflict('This is the only way of paying. Add another one first.');
    setWayRetired(tx, id, retired ? at : null);
    const action = retired ? 'retired' : 'brought back';
    note(tx, { at, personId: call.who.id, action, subject: `way of paying ${id}` });
    return true;
  });
  return redirect(`${address}#ways`, retired ? 'It is no longer offered.' : 'It is offered again.');
}

export const retireWay = (call: StaffCall) => setRetired(call, true);
export const bringWayBack = (call: StaffCall) => setRetired(call, false);
