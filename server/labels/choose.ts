import { h } from 'preact';
import { type LabelFilter, labelFilter, mostLabels, printForm } from '../../shared/labels/form.ts';
import { LabelsPage } from '../../views/labels/page-labels.tsx';
import { choices } from '../cultures/queries.ts';
import { addressWith } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { readForm, typed, withErrors } from '../plumbing/forms.ts';
import { ownAddress } from '../plumbing/own-address.ts';
import { isOnlyHere } from '../plumbing/printing.ts';
import { sheetOn } from './assemble.ts';
import { culturesForLabels, type LabelSheet, listSheets, readSheet } from './queries.ts';

/** The sheet that is offered first: the one in the address, or the only one there is. */
function offered(sheets: readonly LabelSheet[], asked: string | undefined): LabelSheet | undefined {
  return sheets.find(({ id }) => String(id) === asked) ?? sheets[0];
}

function labelsPage(call: StaffCall, filter: LabelFilter, form: FormState) {
  const sheets = listSheets(call.db);
  const { species, places } = choices(call.db);
  const rows = culturesForLabels(call.db, filter);
  const address = ownAddress(call.config);
  return h(LabelsPage, {
    furniture: call.furniture,
    filter,
    rows: rows.slice(0, mostLabels),
    more: rows.length > mostLabels,
    sheets: sheets.map(({ id, name, nextLabel }) => ({ id, name, nextLabel })),
    species,
    places,
    form,
    onlyHere: isOnlyHere(address) ? address : null,
  });
}

export function chooseLabels(call: StaffCall): Answer {
  const filter = labelFilter.parse(call.query);
  const rows = culturesForLabels(call.db, filter).slice(0, mostLabels);
  const sheet = offered(listSheets(call.db), call.query.sheet);
  const values = {
    cultures: rows.map(({ id }) => String(id)),
    sheet: sheet ? String(sheet.id) : '',
    first: String(sheet?.nextLabel ?? 1),
  };
  return page(labelsPage(call, filter, { values, errors: {} }));
}

export function askForSheet(call: StaffCall): Answer {
  const filter = labelFilter.parse(typed(call.body).values);
  const read = readForm(printForm, call.body);
  // Nothing ticked is an empty list, not the list that was offered.
  const form = { ...read.form, values: { cultures: [], ...read.form.values } };
  if (!read.ok) return wrongForm(labelsPage(call, filter, form));
  const { sheet: id, first, cultures } = read.data;
  const stored = id === undefined ? null : readSheet(call.db, id);
  const laid = stored === undefined ? null : sheetOn(call, stored);
  const errors: Record<string, string> = {};
  if (stored === undefined) errors.sheet = 'This sheet is no longer there. Choose another.';
  else if (!laid)
    errors.sheet = `Its measures do not fit on ${call.business.paper}. The owner can mend them.`;
  else if (first > laid.perSheet) errors.first = `This sheet has ${laid.perSheet} labels.`;
  if (Object.keys(errors).length > 0) return wrongForm(labelsPage(call, filter, withErrors(form, errors)));
  return redirect(addressWith('/labels/sheet', { sheet: id, first, cultures: cultures.join(',') }));
}
