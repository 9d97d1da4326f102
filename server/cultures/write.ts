import { h } from 'preact';
import type { z } from 'zod';
import { editCulture, foundingDoubt, newCulture } from '../../shared/cultures/form.ts';
import { CultureFormPage } from '../../views/cultures/page-form.tsx';
import { cultureHref } from '../../views/cultures/page-list.tsx';
import { refreshEstimate } from '../counts/queries-estimate.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { filledWith, isOvertaken, tooLate } from '../plumbing/edits.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import {
  addCulture,
  type Culture,
  changeCulture,
  choices,
  cultureNumbered,
  findCulture,
  loadCulture,
  suggestCode,
} from './queries.ts';

function formPage(
  call: StaffCall,
  form: FormState,
  edited: Pick<Culture, 'id' | 'code' | 'speciesId'> | null,
) {
  return h(CultureFormPage, {
    furniture: call.furniture,
    form,
    choices: choices(call.db),
    edited,
    today: call.today,
  });
}

export function askNewCulture(call: StaffCall): Answer {
  const { species = '' } = call.query;
  return page(
    formPage(
      call,
      { values: { foundedOn: call.today, founding: 'exact', speciesId: species }, errors: {} },
      null,
    ),
  );
}

type New = Omit<z.infer<typeof newCulture>, 'code'> & { code?: string };

/** What the stored stock has to say against the form. */
function faults(
  db: Db,
  data: { code?: string; speciesId: number; lineId?: number; enclosureId: number; placeId?: number },
  ownCode?: string,
) {
  const errors: Record<string, string> = {};
  const offered = choices(db);
  const taken = data.code === undefined ? undefined : findCulture(db, data.code);
  if (taken && taken.code !== ownCode)
    errors.code = `${taken.code} is a culture already. Choose another code.`;
  if (ownCode === undefined && !offered.species.some((s) => s.id === data.speciesId))
    errors.speciesId = 'Choose a species of the list.';
  const line = offered.lines.find((l) => l.id === data.lineId);
  if (data.lineId !== undefined && line?.speciesId !== data.speciesId)
    errors.lineId = 'That line belongs to another species.';
  if (ownCode === undefined && !offered.enclosures.some((e) => e.id === data.enclosureId))
    errors.enclosureId = 'Choose an enclosure of the list.';
  if (data.placeId !== undefined && !offered.places.some((p) => p.id === data.placeId))
    errors.placeId = 'Choose a place of the list.';
  return errors;
}

function found(tx: Db, data: New, call: StaffCall): string {
  const now = call.clock.now();
  const { founding, code = suggestCode(tx, data.speciesId), ...rest } = data;
  const values = {
    ...rest,
    code,
    lineId: rest.lineId ?? null,
    placeId: rest.placeId ?? null,
    foundingSdLog: foundingDoubt[founding],
    status: 'active' as const,
    madeBy: call.who.id,
    madeAt: now,
  };
  const id = addCulture(tx, values);
  note(tx, {
    at: now,
    personId: call.who.id,
    action: 'found a culture',
    subject: `culture ${code}`,
    before: null,
    after: values,
  });
  refreshEstimate(tx, id, call.today, now);
  return code;
}

export function addNewCulture(call: StaffCall): Answer {
  // Sent twice, the second is answered like the first; by now its code is taken.
  const before = call.outcome<string>();
  if (before) return redirect(cultureHref(before));
  const read = readForm(newCulture.extend({ code: newCulture.shape.code.optional() }), call.body);
  if (!read.ok) return wrongForm(formPage(call, read.form, null));
  const errors = faults(call.db, read.data);
  if (read.data.foundedOn > call.today) errors.foundedOn = 'That day is still to come.';
  if (Object.keys(errors).length > 0) return wrongForm(formPage(call, withErrors(read.form, errors), null));
  const code = call.once((tx) => found(tx, read.data, call));
  return redirect(cultureHref(code), `${code} is written down.`);
}

const keptOf = ({ code, morph, lineId, enclosureId, note: words }: Culture) => ({
  code,
  morph,
  lineId,
  enclosureId,
  note: words,
});

export function askEditCulture(call: StaffCall): Answer {
  const { culture } = loadCulture(call.db, call.params.code ?? '');
  return page(formPage(call, filledWith(keptOf(culture)), culture));
}

/** The one that the form was opened for: its code, which the address bears, may be another by now. */
const editedIn = ({ db, body, params }: StaffCall): Culture =>
  cultureNumbered(db, Number(body.culture)) ?? loadCulture(db, params.code ?? '').culture;

type Saved = { code: string; overtaken: boolean };

export function saveCulture(call: StaffCall): Answer {
  const before = call.outcome<Saved>();
  if (before && !before.overtaken) return redirect(cultureHref(before.code));
  const culture = editedIn(call);
  const read = readForm(editCulture, call.body);
  if (!read.ok) return wrongForm(formPage(call, read.form, culture));
  const errors = faults(call.db, { ...read.data, speciesId: culture.speciesId }, culture.code);
  if (Object.keys(errors).length > 0)
    return wrongForm(formPage(call, withErrors(read.form, errors), culture));
  const now = call.clock.now();
  const after = { ...read.data, lineId: read.data.lineId ?? null };
  const subject = `culture ${after.code}`;
  const outcome = call.once((tx): Saved => {
    const stored = keptOf(cultureNumbered(tx, culture.id) ?? culture);
    if (isOvertaken(call, stored)) return { code: stored.code, overtaken: true };
    note(tx, { at: now, personId: call.who.id, action: 'edit a culture', subject, before: stored, after });
    changeCulture(tx, culture.id, after);
    refreshEstimate(tx, culture.id, call.today, now);
    return { code: after.code, overtaken: false };
  });
  if (!outcome.overtaken) return redirect(cultureHref(after.code), 'Saved.');
  const late = tooLate(call, keptOf(culture), { subject: `culture ${culture.code}` });
  return page(formPage(call, late, culture), 409);
}
