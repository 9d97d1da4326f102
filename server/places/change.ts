import { h } from 'preact';
import { editPlaceForm } from '../../shared/places/form.ts';
import { PlaceFormPage } from '../../views/places/page-form.tsx';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { changesBetween, note } from '../plumbing/audit.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
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
import { placeFaults, subjectOf } from './add.ts';
import { placeRows } from './list.ts';
import { orderPlaces, type Place, readPlace, updatePlace } from './queries.ts';

export function placeIn(call: StaffCall): Place {
  const place = readPlace(call.db, numberIn(call, 'id', 'place'));
  if (!place) throw notFound('place');
  return place;
}

/** What the form holds: not the order, which others change while it is open. */
const keptOf = ({ name, parentId }: Place) => ({
  name,
  parentId: parentId === null ? '' : String(parentId),
});

function formPage(call: StaffCall, place: Place, form: FormState) {
  return h(PlaceFormPage, { furniture: call.furniture, place, form, places: placeRows(call.db) });
}

export function askEditPlace(call: StaffCall): Answer {
  const place = placeIn(call);
  return page(formPage(call, place, filledWith(keptOf(place))));
}

export function savePlace(call: StaffCall): Answer {
  const place = placeIn(call);
  const read = readForm(editPlaceForm, call.body);
  if (!read.ok) return wrongForm(formPage(call, place, read.form));
  const { name, parentId } = read.data;
  const at = call.clock.now();
  const outcome = call.once((tx): Outcome => {
    const stored = readPlace(tx, place.id);
    if (!stored) throw notFound('place');
    if (isOvertaken(call, keptOf(stored))) return overtaken;
    const errors = placeFaults(tx, { kind: stored.kind, parentId, names: [name] }, stored.id);
    if (isWrong({ errors })) return { ...saved, errors };
    const values = { name, parentId: parentId ?? null };
    // In another place it comes last; where it was, it keeps its turn.
    const moved = values.parentId === stored.parentId ? {} : { shelfOrder: '' };
    updatePlace(tx, stored.id, { ...values, ...moved });
    orderPlaces(tx);
    const changes = changesBetween<Record<string, unknown>>(stored, values);
    note(tx, { at, personId: call.who.id, action: 'changed', subject: subjectOf(stored.id), ...changes });
    return saved;
  });
  if (outcome.overtaken) {
    const stored = readPlace(call.db, place.id) ?? place;
    const form = tooLate(call, keptOf(stored), { subject: subjectOf(place.id) });
    return page(formPage(call, stored, form), 409);
  }
  if (isWrong(outcome)) return wrongForm(formPage(call, place, withErrors(read.form, outcome.errors)));
  return redirect('/places', `${name} is saved.`);
}
