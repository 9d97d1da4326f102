import { h } from 'preact';
import { type RateForm, rateFaults, rateForm, rateFormValues } from '../../shared/invoices/form.ts';
import { RatePage } from '../../views/invoices/page-rate.tsx';
import { readForm, withErrors } from '../plumbing/forms.ts';
import type { KeptPages } from '../plumbing/kept-pages.ts';
import { insertRate, type RateValues, readRateById, type TaxRate, updateRate } from './queries-invoicing.ts';

const columnsOf = ({ rate, onGoods, onCarriage, untilOn, ...rest }: RateForm): RateValues => ({
  ...rest,
  rateThousandths: rate,
  onGoods: onGoods === 'yes',
  onCarriage: onCarriage === 'yes',
  untilOn: untilOn ?? null,
});

/** Invoices keep the taxes they were written with, so a change counts for those that are still to come. */
export const keptRates: KeptPages<TaxRate, RateValues> = {
  what: 'tax',
  subject: (id) => `tax ${id}`,
  read: readRateById,
  insert: insertRate,
  update: (tx, { id }, values) => updateRate(tx, id, values),
  setRetired: (tx, id, retiredAt) => updateRate(tx, id, { retiredAt }),
  address: '/settings/invoices/taxes',
  list: '/settings/invoices',
  shown: ({ today }, rate): Record<string, string> =>
    rate ? rateFormValues(rate) : { fromOn: today, onGoods: 'yes', onCarriage: 'yes', mode: 'included' },
  made(call) {
    const form = readForm(rateForm, call.body);
    if (!form.ok) return form;
    const faults = rateFaults(form.data);
    if (Object.keys(faults).length > 0) return { ok: false, form: withErrors(form.form, faults) };
    return { ok: true, values: columnsOf(form.data), form: form.form };
  },
  form: ({ furniture }, form, rate) => h(RatePage, { furniture, form, rate }),
  saidRetired: () => 'It is taken out. Invoices that were written with it stay as they are.',
  saidBroughtBack: () => 'It counts again.',
};
