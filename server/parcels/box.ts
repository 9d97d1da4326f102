import { h } from 'preact';
import { type BoxValues, boxForm, boxFormValues, boxFromForm } from '../../shared/parcels/box-form.ts';
import { BoxFormPage } from '../../views/parcels/page-box.tsx';
import type { StaffCall } from '../plumbing/call.ts';
import { readForm } from '../plumbing/forms.ts';
import { type KeptPages, settle } from '../plumbing/kept-pages.ts';
import { keptIn } from '../plumbing/kept-things.ts';
import {
  type Box,
  boxNamed,
  insertBox,
  logsOfBox,
  readBox,
  setBoxRetired,
  updateBox,
} from './queries-stock.ts';

export const subjectOfBox = (id: number) => `box ${id}`;

export const keptBoxes: KeptPages<Box, BoxValues> = {
  what: 'box',
  subject: subjectOfBox,
  read: readBox,
  named: boxNamed,
  insert: insertBox,
  update: (tx, { id }, values) => updateBox(tx, id, values),
  setRetired: setBoxRetired,
  address: '/parcels/boxes',
  list: '/parcels/stock',
  shown: ({ business }, box) => boxFormValues(box, business.units, business.currency),
  made(call, before) {
    const form = readForm(boxForm(call.business.currency), call.body);
    return form.ok ? settle(form.form, boxFromForm(form.data, call.business.units, before)) : form;
  },
  form: ({ furniture, business, db }, form, box) =>
    h(BoxFormPage, {
      furniture,
      form,
      box,
      logs: box ? logsOfBox(db, box.id) : [],
      units: business.units,
      currency: business.currency,
      timeZone: business.timeZone,
    }),
};

export const boxIn = (call: StaffCall): Box => keptIn(call, keptBoxes);
