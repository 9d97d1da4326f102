import { h } from 'preact';
import {
  type CarrierValues,
  carrierForm,
  carrierFormValues,
  carrierFromForm,
  carrierWords,
  newCarrier,
} from '../../shared/parcels/carrier-form.ts';
import { CarrierFormPage, type CarrierFormPageProps } from '../../views/parcels/page-carrier.tsx';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { differencesBetween, fingerprintOf, isWrong, lastSaved } from '../plumbing/edits.ts';
import { readForm, typed, withErrors } from '../plumbing/forms.ts';
import { addKept, type Kept, keptIn, saveKept, setKeptRetired } from '../plumbing/kept-things.ts';
import { holidaysOf } from './holidays-kept.ts';
import {
  type Carrier,
  carrierNamed,
  insertCarrier,
  openPlaces,
  readCarrier,
  readParcelHabits,
  setCarrierRetired,
  updateCarrier,
} from './queries-carriers.ts';

const subjectOf = (id: number) => `carrier ${id}`;

const keptCarriers: Kept<Carrier, CarrierValues> = {
  what: 'carrier',
  subject: subjectOf,
  read: readCarrier,
  named: carrierNamed,
  insert: insertCarrier,
  update: (tx, { id }, values) => updateCarrier(tx, id, values),
  setRetired: setCarrierRetired,
};

const carrierIn = (call: StaffCall): Carrier => keptIn(call, keptCarriers);

type Extra = { carrier: Carrier | null } & Pick<CarrierFormPageProps, 'conflict'>;

function formPage(call: StaffCall, form: FormState, { carrier, conflict }: Extra = { carrier: null }) {
  return h(CarrierFormPage, {
    furniture: call.furniture,
    form,
    carrier,
    conflict,
    units: call.business.units,
    currency: call.business.currency,
    hubs: openPlaces(call.db).filter(({ part }) => part === 'hub'),
    packedAt: readParcelHabits(call.db).packedAt,
  });
}

const valuesOf = (call: StaffCall, values: CarrierValues) =>
  carrierFormValues(values, call.business.units, call.business.currency);

export function askNewCarrier(call: StaffCall): Answer {
  const values = valuesOf(call, { ...newCarrier, name: '', country: call.business.country });
  return page(formPage(call, { values, errors: {} }));
}

export function askEditCarrier(call: StaffCall): Answer {
  const carrier = carrierIn(call);
  const values = { ...valuesOf(call, carrier), version: fingerprintOf(carrier) };
  return page(formPage(call, { values, errors: {} }, { carrier }));
}

async function read(call: StaffCall, before: Carrier | null) {
  const form = readForm(carrierForm(call.business.currency), call.body);
  if (!form.ok) return form;
  const { packedAt } = readParcelHabits(call.db);
  const made = carrierFromForm(form.data, call.business.units, before, packedAt);
  if (!made.ok) return { ok: false as const, form: withErrors(form.form, made.errors) };
  const { hubPlaceId } = made.values;
  const errors: Record<string, string> = {};
  if (hubPlaceId !== null && !openPlaces(call.db).some(({ id }) => id === hubPlaceId))
    errors.hub = 'Choose one of the list.';
  const holidays = await holidaysOf(made.values, [Number(call.today.slice(0, 4))]);
  if ('unknown' in holidays)
    errors[made.values.region === null ? 'country' : 'region'] = `It ${holidays.unknown}.`;
  if (Object.keys(errors).length > 0) return { ok: false as const, form: withErrors(form.form, errors) };
  return { ok: true as const, values: made.values, form: form.form };
}

const back = '/parcels/carriers';

export async function addCarrier(call: StaffCall): Promise<Answer> {
  const made = await read(call, null);
  if (!made.ok) return wrongForm(formPage(call, made.form));
  const outcome = addKept(call, keptCarriers, made.values);
  if (isWrong(outcome)) return wrongForm(formPage(call, withErrors(made.form, outcome.errors)));
  return redirect(back, `${made.values.name} is written down.`);
}

const text = (values: Record<string, string | string[]>): Record<string, string> =>
  Object.fromEntries(Object.entries(values).map(([name, value]) => [name, [value].flat().join(', ')]));

export async function saveCarrier(call: StaffCall): Promise<Answer> {
  const carrier = carrierIn(call);
  const made = await read(call, carrier);
  if (!made.ok) return wrongForm(formPage(call, made.form, { carrier }));
  const outcome = saveKept(call, keptCarriers, carrier.id, made.values);
  if (outcome.overtaken) {
    const now = readCarrier(call.db, carrier.id) ?? carrier;
    const form = typed(call.body);
    const conflict = {
      ...lastSaved(call.db, subjectOf(now.id), call.business),
      differences: differencesBetween(text(valuesOf(call, now)), form.values, carrierWords),
    };
    const values = { ...form.values, version: fingerprintOf(now) };
    return page(formPage(call, { values, errors: {} }, { carrier: now, conflict }), 409);
  }
  if (isWrong(outcome)) return wrongForm(formPage(call, withErrors(made.form, outcome.errors), { carrier }));
  return redirect(back, `${made.values.name} is saved.`);
}

export function retireCarrier(call: StaffCall): Answer {
  const { id, name } = carrierIn(call);
  setKeptRetired(call, keptCarriers, id, true);
  return redirect(back, {
    text: `${name} is not offered any more.`,
    tone: 'plain',
    undo: { action: `${back}/${id}/bring-back`, label: 'Undo' },
  });
}

export function bringBackCarrier(call: StaffCall): Answer {
  const { id, name } = carrierIn(call);
  setKeptRetired(call, keptCarriers, id, false);
  return redirect(back, `${name} is offered again.`);
}
