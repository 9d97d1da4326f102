import { h } from 'preact';
import { areaForm } from '../../shared/parcels/choose-form.ts';
import { habitFormValues, habitsForm, habitsFromForm } from '../../shared/parcels/habits-form.ts';
import { plainPostcode } from '../../shared/parcels/weather-area.ts';
import { emptyForm } from '../../views/layout/form-state.ts';
import { CarriersPage } from '../../views/parcels/page-carriers.tsx';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { changesBetween, note } from '../plumbing/audit.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { filledWith, isOvertaken, type Outcome, overtaken, saved, tooLate } from '../plumbing/edits.ts';
import { notFound } from '../plumbing/errors.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import {
  areaThere,
  listAreas,
  listCarriers,
  openPlaces,
  readArea,
  readParcelHabits,
  saveArea,
  saveParcelHabits,
  takeOutArea,
} from './queries-carriers.ts';

const path = '/parcels/carriers';
type Forms = { habits?: FormState; area?: FormState };

const habitsNow = ({ business }: StaffCall, db: Db) => habitFormValues(readParcelHabits(db), business.units);

function carriersPage(call: StaffCall, { habits, area }: Forms = {}) {
  const { db, furniture, business } = call;
  const stored = readParcelHabits(db);
  return h(CarriersPage, {
    furniture,
    units: business.units,
    currency: business.currency,
    mayEdit: call.who.role === 'owner',
    carriers: listCarriers(db),
    places: openPlaces(db),
    areas: listAreas(db),
    usual: stored,
    habitsForm: { ...(habits ?? filledWith(habitsNow(call, db))), id: 'habits' },
    areaForm: area ?? { ...emptyForm, values: { country: business.country }, id: 'area' },
  });
}

/** Carriers, whose weather counts where, and how parcels are packed. */
export function showCarriers(call: StaffCall): Answer {
  return page(carriersPage(call));
}

export function changeParcelHabits(call: StaffCall): Answer {
  const read = readForm(habitsForm, call.body);
  const wrong = (errors: Record<string, string>) =>
    wrongForm(carriersPage(call, { habits: withErrors(read.form, errors) }));
  if (!read.ok) return wrong({});
  const before = readParcelHabits(call.db);
  const made = habitsFromForm(read.data, call.business.units, before);
  if (!made.ok) return wrong(made.errors);
  const { originPlaceId, carrierId } = made.values;
  if (originPlaceId !== null && !openPlaces(call.db).some(({ id }) => id === originPlaceId))
    return wrong({ origin: 'Choose one of the list.' });
  if (
    carrierId !== null &&
    !listCarriers(call.db).some(({ id, retiredAt }) => id === carrierId && !retiredAt)
  )
    return wrong({ carrier: 'Choose one of the list.' });
  const at = call.clock.now();
  const about = { action: 'changed', subject: 'how parcels are packed' };
  const outcome = call.once((tx): Outcome => {
    if (isOvertaken(call, habitsNow(call, tx))) return overtaken;
    saveParcelHabits(tx, made.values);
    const changes = changesBetween<Record<string, unknown>>({ ...before }, { ...made.values });
    note(tx, { at, personId: call.who.id, ...about, ...changes });
    return saved;
  });
  if (outcome.overtaken)
    return page(carriersPage(call, { habits: tooLate(call, habitsNow(call, call.db), about) }), 409);
  return redirect(`${path}#habits`, 'How parcels are packed is saved.');
}

/** What stands for such an area already, as the form would show it. */
function areaNow(db: Db, where: { country: string; postcodeStart: string }) {
  const found = areaThere(db, where);
  return found && { country: found.country, postcode: found.postcodeStart, place: String(found.placeId) };
}
const aboutAreas = { subject: 'weather areas' };

export function addArea(call: StaffCall): Answer {
  const read = readForm(areaForm, call.body);
  const wrong = (errors: Record<string, string>) =>
    wrongForm(carriersPage(call, { area: { ...withErrors(read.form, errors), id: 'area' } }));
  if (!read.ok) return wrong({});
  const { country, postcode, place } = read.data;
  if (!openPlaces(call.db).some(({ id }) => id === place)) return wrong({ place: 'Choose one of the list.' });
  const postcodeStart = plainPostcode(postcode);
  if (postcode !== '' && postcodeStart === '')
    return wrong({ postcode: 'Letters and digits of the postcode’s beginning, or nothing for the country.' });
  const where = { country, postcodeStart };
  const outcome = call.once((tx): Outcome => {
    const there = areaNow(tx, where);
    // Where nothing stands yet nothing can be lost.
    if (there && there.place !== String(place) && isOvertaken(call, there)) return overtaken;
    const at = call.clock.now();
    saveArea(tx, { ...where, placeId: place, madeAt: at });
    const after = { ...where, placeId: place };
    note(tx, { at, personId: call.who.id, action: 'changed', ...aboutAreas, before: there ?? null, after });
    return saved;
  });
  const there = areaNow(call.db, where);
  if (outcome.overtaken && there)
    return page(carriersPage(call, { area: { ...tooLate(call, there, aboutAreas), id: 'area' } }), 409);
  return redirect(`${path}#areas`, 'It is written down whose weather counts there.');
}

export function removeArea(call: StaffCall): Answer {
  const id = numberIn(call, 'id', 'area');
  const area = call.once((tx) => {
    const found = readArea(tx, id);
    if (!found) throw notFound('area');
    takeOutArea(tx, id);
    return found;
  });
  return redirect(`${path}#areas`, {
    text: `${area.country} ${area.postcodeStart} is taken out.`,
    tone: 'plain',
    undo: {
      action: `${path}/areas`,
      label: 'Undo',
      fields: { country: area.country, postcode: area.postcodeStart, place: area.placeId },
    },
  });
}
