import { h } from 'preact';
import { editPlaceForm, placeFieldWords } from '../../shared/places/form.ts';
import { formatCount } from '../../views/layout/format.ts';
import { PlaceFormPage, type PlaceFormPageProps } from '../../views/places/page-form.tsx';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { changesBetween, note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { differencesBetween, fingerprintOf, lastSaved } from '../plumbing/edits.ts';
import { notFound } from '../plumbing/errors.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import { placeFaults, subjectOf } from './add.ts';
import { placeRows, treeAnswer } from './list.ts';
import {
  childrenOf,
  culturesOn,
  orderPlaces,
  type Place,
  readPlace,
  setPlacesRetired,
  subtreeOf,
  updatePlace,
} from './queries.ts';

function placeIn(call: StaffCall): Place {
  const place = readPlace(call.db, numberIn(call, 'id', 'place'));
  if (!place) throw notFound('place');
  return place;
}

/** What makes two readings of the form different: not the order, which others change while it is open. */
const markOf = ({ name, parentId }: Place) => fingerprintOf({ name, parentId });
const shown = ({ name, parentId }: Place) => ({ name, parentId: parentId === null ? '' : String(parentId) });

function formPage(
  call: StaffCall,
  place: Place,
  form: PlaceFormPageProps['form'],
  conflict?: PlaceFormPageProps['conflict'],
) {
  return h(PlaceFormPage, { furniture: call.furniture, place, form, conflict, places: placeRows(call.db) });
}

export function askEditPlace(call: StaffCall): Answer {
  const place = placeIn(call);
  return page(formPage(call, place, { values: { ...shown(place), version: markOf(place) }, errors: {} }));
}

export function savePlace(call: StaffCall): Answer {
  const place = placeIn(call);
  const read = readForm(editPlaceForm, call.body);
  if (!read.ok) return wrongForm(formPage(call, place, read.form));
  const { name, parentId } = read.data;
  const errors = placeFaults(call.db, { kind: place.kind, parentId, names: [name] }, place.id);
  if (Object.keys(errors).length > 0) return wrongForm(formPage(call, place, withErrors(read.form, errors)));
  const at = call.clock.now();
  const saved = call.once((tx) => {
    const stored = readPlace(tx, place.id);
    if (!stored) throw notFound('place');
    if (markOf(stored) !== call.body.version) return false;
    const values = { name, parentId: parentId ?? null };
    // In another place it comes last; where it was, it keeps its turn.
    const moved = values.parentId === stored.parentId ? {} : { shelfOrder: '' };
    updatePlace(tx, stored.id, { ...values, ...moved });
    orderPlaces(tx);
    const changes = changesBetween<Record<string, unknown>>(stored, values);
    note(tx, { at, personId: call.who.id, action: 'changed', subject: subjectOf(stored.id), ...changes });
    return true;
  });
  if (saved) return redirect('/places', `${name} is saved.`);
  const stored = readPlace(call.db, place.id) ?? place;
  const conflict = {
    ...lastSaved(call.db, subjectOf(place.id), call.business),
    differences: differencesBetween({ name: stored.name }, read.form.values, {
      name: placeFieldWords.name ?? '',
    }),
  };
  const values = { ...read.form.values, version: markOf(stored) };
  return page(formPage(call, stored, { values, errors: {} }, conflict), 409);
}

/** Changes places with the neighbour in use before it, or after it. */
function move(call: StaffCall, step: -1 | 1): Answer {
  const { id } = placeIn(call);
  const at = call.clock.now();
  const name = call.once((tx) => {
    const place = readPlace(tx, id);
    if (!place) throw notFound('place');
    const row = childrenOf(tx, place.parentId).filter((sibling) => sibling.retiredAt === null);
    const neighbour = row[row.findIndex((sibling) => sibling.id === id) + step];
    if (!neighbour || place.retiredAt !== null) return place.name;
    updatePlace(tx, place.id, { shelfOrder: neighbour.shelfOrder });
    updatePlace(tx, neighbour.id, { shelfOrder: place.shelfOrder });
    orderPlaces(tx);
    note(tx, {
      at,
      personId: call.who.id,
      action: step < 0 ? 'moved up' : 'moved down',
      subject: subjectOf(id),
    });
    return place.name;
  });
  return treeAnswer(call, {
    text: `${name} now comes ${step < 0 ? 'earlier' : 'later'} on the walk.`,
    tone: 'plain',
    undo: { action: `/places/${id}/${step < 0 ? 'down' : 'up'}`, label: 'Undo' },
  });
}

export const movePlaceUp = (call: StaffCall): Answer => move(call, -1);
export const movePlaceDown = (call: StaffCall): Answer => move(call, 1);

/** With all that stands in it; not while cultures stand there, or the round would not come past them. */
export function retirePlace(call: StaffCall): Answer {
  const place = placeIn(call);
  const at = call.clock.now();
  const standing = call.once((tx) => {
    const subtree = subtreeOf(tx, place.id).filter((p) => p.retiredAt === null);
    const codes = culturesOn(
      tx,
      subtree.map((p) => p.id),
    );
    if (codes.length > 0) return codes;
    setPlacesRetired(
      tx,
      subtree.map((p) => p.id),
      at,
    );
    note(tx, { at, personId: call.who.id, action: 'retired', subject: subjectOf(place.id) });
    return [];
  });
  if (standing.length > 0) {
    const some = standing.slice(0, 5).join(', ') + (standing.length > 5 ? ' and others' : '');
    return redirect('/places', {
      text: `${place.name} stays: ${formatCount(standing.length, 'culture')} would be left without a place (${some}). Move them first.`,
      tone: 'needs-you',
    });
  }
  return redirect('/places', {
    text: `${place.name} is no longer used.`,
    tone: 'plain',
    undo: { action: `/places/${place.id}/bring-back`, label: 'Undo' },
  });
}

/** What was retired together comes back together, and what it stands in as well. */
export function bringBackPlace(call: StaffCall): Answer {
  const place = placeIn(call);
  const at = call.clock.now();
  call.once((tx) => {
    const together = subtreeOf(tx, place.id).filter((p) => p.retiredAt === place.retiredAt);
    const above: number[] = [];
    for (let up = place.parentId; up !== null; ) {
      above.push(up);
      up = readPlace(tx, up)?.parentId ?? null;
    }
    setPlacesRetired(tx, [...together.map((p) => p.id), ...above], null);
    note(tx, { at, personId: call.who.id, action: 'brought back', subject: subjectOf(place.id) });
  });
  return redirect('/places', `${place.name} is used again.`);
}
