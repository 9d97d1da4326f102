import { h } from 'preact';
import { type RateForm, rateFaults, rateForm } from '../../shared/invoices/form.ts';
import { writeRate } from '../../shared/invoices/tax.ts';
import { RatePage } from '../../views/invoices/page-rate.tsx';
import type { FormState } from '../../views/layout/form-state.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { changesBetween, note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { fingerprintOf } from '../plumbing/edits.ts';
import { notFound } from '../plumbing/errors.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import { insertRate, readRateById, type TaxRate, updateRate } from './queries-invoicing.ts';

const address = '/settings/invoices';

const ratePage = (call: StaffCall, form: FormState, rate: { id: number; version: string } | null) =>
  h(RatePage, { furniture: call.furniture, form, rate });

export function askNewRate(call: StaffCall): Answer {
  const values = { fromOn: call.today, onGoods: 'yes', onCarriage: 'yes', mode: 'included' };
  return page(ratePage(call, { values, errors: {} }, null));
}

const columnsOf = ({ rate, onGoods, onCarriage, untilOn, ...rest }: RateForm) => ({
  ...rest,
  rateThousandths: rate,
  onGoods: onGoods === 'yes',
  onCarriage: onCarriage === 'yes',
  untilOn: untilOn ?? null,
});

function readRateForm(call: StaffCall) {
  const read = readForm(rateForm, call.body);
  if (!read.ok) return read;
  const faults = rateFaults(read.data);
  if (Object.keys(faults).length === 0) return read;
  return { ok: false as const, form: withErrors(read.form, faults) };
}

export function addRate(call: StaffCall): Answer {
  const read = readRateForm(call);
  if (!read.ok) return wrongForm(ratePage(call, read.form, null));
  const values = columnsOf(read.data);
  const at = call.clock.now();
  call.once((tx) => {
    const subject = `tax ${insertRate(tx, values, at)}`;
    note(tx, { at, personId: call.who.id, action: 'added', subject, after: values });
    return true;
  });
  return redirect(address, `${values.name} is added.`);
}

function rateIn(call: StaffCall): TaxRate {
  const rate = readRateById(call.db, numberIn(call, 'id', 'tax'));
  if (!rate || rate.retiredAt !== null) throw notFound('tax');
  return rate;
}

export function askRate(call: StaffCall): Answer {
  const rate = rateIn(call);
  const values = {
    name: rate.name,
    rate: writeRate(rate.rateThousandths),
    mode: rate.mode,
    onGoods: rate.onGoods ? 'yes' : '',
    onCarriage: rate.onCarriage ? 'yes' : '',
    fromOn: rate.fromOn,
    untilOn: rate.untilOn,
  };
  return page(ratePage(call, { values, errors: {} }, { id: rate.id, version: fingerprintOf(rate) }));
}

/** Invoices keep the taxes they were written with, so a change counts for those that are still to come. */
export function changeRate(call: StaffCall): Answer {
  const { id } = rateIn(call);
  const read = readRateForm(call);
  const version = typeof call.body.version === 'string' ? call.body.version.slice(0, 64) : '';
  if (!read.ok) return wrongForm(ratePage(call, read.form, { id, version }));
  const values = columnsOf(read.data);
  const at = call.clock.now();
  const isSaved = call.once((tx) => {
    const stored = readRateById(tx, id);
    if (!stored || fingerprintOf(stored) !== version) return false;
    updateRate(tx, id, values);
    const changes = changesBetween<Record<string, unknown>>(stored, values);
    note(tx, { at, personId: call.who.id, action: 'changed', subject: `tax ${id}`, ...changes });
    return true;
  });
  if (isSaved) return redirect(address, 'Saved.');
  const now = rateIn(call);
  const days = `from ${now.fromOn}${now.untilOn ? ` until ${now.untilOn}` : ''}`;
  const meanwhile = `Somebody changed this tax meanwhile: it is ${now.name}, ${writeRate(now.rateThousandths)} %, ${days} now. Send your version below to replace that.`;
  const form = { values: read.form.values, errors: { '': meanwhile } };
  return page(ratePage(call, form, { id, version: fingerprintOf(now) }), 409);
}

function setRetired(call: StaffCall, retired: boolean) {
  const id = numberIn(call, 'id', 'tax');
  const at = call.clock.now();
  call.once((tx) => {
    const rate = readRateById(tx, id);
    if (!rate) throw notFound('tax');
    updateRate(tx, id, { retiredAt: retired ? at : null });
    const action = retired ? 'retired' : 'brought back';
    note(tx, { at, personId: call.who.id, action, subject: `tax ${id}` });
    return true;
  });
  return id;
}

export function removeRate(call: StaffCall): Answer {
  const id = setRetired(call, true);
  return redirect(address, {
    text: 'It is taken out. Invoices that were written with it stay as they are.',
    tone: 'plain',
    undo: { action: `${address}/taxes/${id}/back`, label: 'Undo' },
  });
}

export function bringRateBack(call: StaffCall): Answer {
  setRetired(call, false);
  return redirect(address, 'It counts again.');
}
