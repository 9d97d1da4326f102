import { h } from 'preact';
import {
  type EnclosureValues,
  enclosureForm,
  enclosureFormValues,
  enclosureFromForm,
} from '../../shared/enclosures/form.ts';
import { EnclosureFormPage } from '../../views/enclosures/page-form.tsx';
import { EnclosurePreview } from '../../views/enclosures/part-preview.tsx';
import { formatCount } from '../../views/layout/format.ts';
import { workOutAnew } from '../counts/queries-outdated.ts';
import { type Answer, part } from '../plumbing/answers.ts';
import type { FormBody, StaffCall } from '../plumbing/call.ts';
import { readForm } from '../plumbing/forms.ts';
import { type KeptPages, settle } from '../plumbing/kept-pages.ts';
import { previewOf } from './preview.ts';
import {
  culturesInEnclosure,
  type Enclosure,
  enclosureNamed,
  insertEnclosure,
  readEnclosure,
  setEnclosureRetired,
  updateEnclosure,
} from './queries.ts';

/** The drawing and the litres of what is typed so far, for the form while it is being filled in. */
export function showPreview(call: StaffCall): Answer {
  const { units, locale } = call.business;
  return part(h(EnclosurePreview, { preview: previewOf(call.query, units), units, locale }));
}

export const keptEnclosures: KeptPages<Enclosure, EnclosureValues> = {
  what: 'enclosure',
  subject: (id) => `enclosure ${id}`,
  read: readEnclosure,
  named: enclosureNamed,
  insert: insertEnclosure,
  update(tx, { id }, values, { today, clock }) {
    updateEnclosure(tx, id, values);
    workOutAnew(tx, culturesInEnclosure(tx, id), today, clock.now());
  },
  setRetired: setEnclosureRetired,
  address: '/enclosures',
  list: '/enclosures',
  shown: ({ business }, enclosure) => enclosureFormValues(enclosure, business.units),
  made(call, before) {
    const form = readForm(enclosureForm, call.body);
    return form.ok ? settle(form.form, enclosureFromForm(form.data, call.business.units, before)) : form;
  },
  form: ({ furniture, business: { units } }, form, enclosure) =>
    h(EnclosureFormPage, {
      furniture,
      form,
      preview: previewOf(form.values as FormBody, units),
      units,
      enclosure,
    }),
  /** Cultures that live in it stay as they are; it is only no longer offered for new ones. */
  saidRetired({ id, name }, { db }) {
    const inUse = culturesInEnclosure(db, id).length;
    const unchanged = inUse === 1 ? 'stays as it is' : 'stay as they are';
    const stay = inUse > 0 ? ` ${formatCount(inUse, 'culture')} in it ${unchanged}.` : '';
    return `${name} is not offered any more.${stay}`;
  },
};
