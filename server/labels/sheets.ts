import { h } from 'preact';
import {
  labelSheetForm,
  labelSheetWords,
  type StoredSheet,
  sheetFormValues,
  sheetFromForm,
} from '../../shared/labels/form.ts';
import { layOutSheet, plainSheet } from '../../shared/labels/sheet.ts';
import { LEAST_MODULE_MM } from '../../views/documents/label.ts';
import { SheetFormPage, type SheetFormPageProps } from '../../views/labels/page-sheet-form.tsx';
import { SheetsPage } from '../../views/labels/page-sheets.tsx';
import { SheetPreview, type SheetPreviewData } from '../../views/labels/part-preview.tsx';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, part, redirect, wrongForm } from '../plumbing/answers.ts';
import { changesBetween, note } from '../plumbing/audit.ts';
import type { FormBody, FormState, StaffCall } from '../plumbing/call.ts';
import {
  filledWith,
  isOvertaken,
  isWrong,
  type Outcome,
  overtaken,
  saved,
  tooLate,
} from '../plumbing/edits.ts';
import { notFound } from '../plumbing/errors.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import { judge, labelOf, moduleFault } from './assemble.ts';
import {
  deleteSheet,
  insertSheet,
  type LabelSheet,
  listSheets,
  longestCode,
  readSheet,
  sheetNamed,
  updateSheet,
} from './queries.ts';

const subjectOf = (id: number) => `label sheet ${id}`;

const keptNow = (call: StaffCall, sheet: LabelSheet) => sheetFormValues(sheet, call.business.units);

function sheetIn(call: StaffCall): LabelSheet {
  const sheet = readSheet(call.db, numberIn(call, 'id', 'sheet of labels'));
  if (!sheet) throw notFound('sheet of labels');
  return sheet;
}

/** A label like those that will stand on the sheet, with the longest code in use. */
const sampleLabel = (call: StaffCall) =>
  labelOf(call, {
    code: longestCode(call.db) ?? 'AR-014',
    scientificName: 'Genus species',
    line: 'A',
    morph: '',
    place: 'Rack 1, shelf 2',
  });

type Read =
  | { ok: true; values: StoredSheet; form: FormState; preview: SheetPreviewData }
  | { ok: false; form: FormState; preview: SheetPreviewData | null };

/** Holds what is typed against the paper and against what a phone can read. */
function read(call: StaffCall, body: FormBody, before: StoredSheet | null): Read {
  const { units } = call.business;
  const form = readForm(labelSheetForm(units), body);
  if (!form.ok) return { ok: false, form: form.form, preview: null };
  const values = sheetFromForm(form.data, units, before);
  const laid = layOutSheet(values, call.business.paper, call.business);
  if (!laid.ok) return { ok: false, form: withErrors(form.form, { ...laid.errors }), preview: null };
  const label = sampleLabel(call);
  const judged = judge([label], laid.sheet);
  const preview = { sheet: laid.sheet, label, cutLines: values.cutLines, said: call.business, judged };
  if (judged.smallestMm >= LEAST_MODULE_MM - 0.001) return { ok: true, values, form: form.form, preview };
  const field = laid.sheet.labelHeightMm <= laid.sheet.labelWidthMm / 2 ? 'labelHeight' : 'labelWidth';
  const fault = { [field]: moduleFault(judged.smallestMm, label.code, call.business) };
  return { ok: false, form: withErrors(form.form, fault), preview };
}

function formPage(
  call: StaffCall,
  form: FormState,
  extra: Pick<SheetFormPageProps, 'sheet'> & { preview?: SheetPreviewData | null },
) {
  const named = { ...(form.values as FormBody), name: 'not named yet' };
  const preview = extra.preview ?? read(call, named, null).preview;
  const { paper, units } = call.business;
  return h(SheetFormPage, { furniture: call.furniture, form, paper, units, ...extra, preview });
}

export function showSheets(call: StaffCall): Answer {
  const { paper } = call.business;
  const sheets = listSheets(call.db).map((sheet) => ({
    ...sheet,
    laid: layOutSheet(sheet, paper, call.business),
  }));
  return page(h(SheetsPage, { furniture: call.furniture, sheets, paper, said: call.business }));
}

export function askNewSheet(call: StaffCall): Answer {
  const start = { ...plainSheet(call.business.paper), name: '', cutLines: true };
  return page(
    formPage(call, { values: sheetFormValues(start, call.business.units), errors: {} }, { sheet: null }),
  );
}

/** The picture of what is typed so far, with what is wrong, for the form while it is being filled in. */
export function previewSheet(call: StaffCall): Answer {
  const { form, preview } = read(call, { ...call.query, name: call.query.name || 'not named yet' }, null);
  return part(h(SheetPreview, { preview, errors: form.errors, words: labelSheetWords }));
}

function nameFault(tx: Db, name: string, ownId: number | null): Record<string, string> {
  const namesake = sheetNamed(tx, name);
  return namesake && namesake.id !== ownId ? { name: 'There is a sheet with this name already.' } : {};
}

export function addSheet(call: StaffCall): Answer {
  const made = read(call, call.body, null);
  if (!made.ok) return wrongForm(formPage(call, made.form, { sheet: null, preview: made.preview }));
  const at = call.clock.now();
  const outcome = call.once((tx): Outcome => {
    const errors = nameFault(tx, made.values.name, null);
    if (isWrong({ errors })) return { ...saved, errors };
    const id = insertSheet(tx, made.values);
    note(tx, { at, personId: call.who.id, action: 'added', subject: subjectOf(id), after: made.values });
    return saved;
  });
  if (isWrong(outcome))
    return wrongForm(formPage(call, withErrors(made.form, outcome.errors), { sheet: null }));
  return redirect('/label-sheets', `${made.values.name} is saved.`);
}

export function askEditSheet(call: StaffCall): Answer {
  const sheet = sheetIn(call);
  return page(formPage(call, filledWith(keptNow(call, sheet)), { sheet }));
}

export function saveSheet(call: StaffCall): Answer {
  const sheet = sheetIn(call);
  const made = read(call, call.body, sheet);
  if (!made.ok) return wrongForm(formPage(call, made.form, { sheet, preview: made.preview }));
  const at = call.clock.now();
  const outcome = call.once((tx): Outcome => {
    const stored = readSheet(tx, sheet.id);
    if (!stored) throw notFound('sheet of labels');
    if (isOvertaken(call, keptNow(call, stored))) return overtaken;
    const errors = nameFault(tx, made.values.name, stored.id);
    if (isWrong({ errors })) return { ...saved, errors };
    // Another cut of the paper: the part-used sheet in the printer is not this one.
    const recut = stored.columns * stored.rows !== made.values.columns * made.values.rows;
    updateSheet(tx, stored.id, { ...made.values, ...(recut && { nextLabel: 1 }) });
    const changes = changesBetween<Record<string, unknown>>(stored, made.values);
    note(tx, { at, personId: call.who.id, action: 'changed', subject: subjectOf(stored.id), ...changes });
    return saved;
  });
  if (outcome.overtaken) {
    const late = tooLate(call, keptNow(call, sheetIn(call)), { subject: subjectOf(sheet.id) });
    return page(formPage(call, late, { sheet }), 409);
  }
  if (isWrong(outcome)) return wrongForm(formPage(call, withErrors(made.form, outcome.errors), { sheet }));
  return redirect('/label-sheets', `${made.values.name} is saved.`);
}

export function removeSheet(call: StaffCall): Answer {
  if (call.outcome()) return redirect('/label-sheets');
  const sheet = sheetIn(call);
  call.once((tx) => {
    deleteSheet(tx, sheet.id);
    const { name } = sheet;
    note(tx, {
      at: call.clock.now(),
      personId: call.who.id,
      action: 'removed',
      subject: subjectOf(sheet.id),
      before: { name },
    });
    return true;
  });
  return redirect('/label-sheets', `${sheet.name} is removed. Labels that were printed stay good.`);
}
