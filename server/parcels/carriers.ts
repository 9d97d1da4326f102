import { h } from 'preact';
import {
  type CarrierValues,
  carrierForm,
  carrierFormValues,
  carrierFromForm,
  newCarrier,
} from '../../shared/parcels/carrier-form.ts';
import { CarrierFormPage } from '../../views/parcels/page-carrier.tsx';
import type { StaffCall } from '../plumbing/call.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import type { KeptPages, Made } from '../plumbing/kept-pages.ts';
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

async function made(call: StaffCall, before: Carrier | null): Promise<Made<CarrierValues>> {
  const form = readForm(carrierForm(call.business.currency), call.body);
  if (!form.ok) return form;
  const { packedAt } = readParcelHabits(call.db);
  const read = carrierFromForm(form.data, call.business.units, before, packedAt);
  if (!read.ok) return { ok: false, form: withErrors(form.form, read.errors) };
  const { hubPlaceId } = read.values;
  const errors: Record<string, string> = {};
  if (hubPlaceId !== null && !openPlaces(call.db).some(({ id }) => id === hubPlaceId))
    errors.hub = 'Choose one of the list.';
  const holidays = await holidaysOf(read.values, [Number(call.today.slice(0, 4))]);
  if ('unknown' in holidays)
    errors[read.values.region === null ? 'country' : 'region'] = `It ${holidays.unknown}.`;
  if (Object.keys(errors).length > 0) return { ok: false, form: withErrors(form.form, errors) };
  return { ok: true, values: read.values, form: form.form };
}

export const keptCarriers: KeptPages<Carrier, CarrierValues> = {
  what: 'carrier',
  subject: (id) => `carrier ${id}`,
  read: readCarrier,
  named: carrierNamed,
  insert: insertCarrier,
  update: (tx, { id }, values) => updateCarrier(tx, id, values),
  setRetired: setCarrierRetired,
  address: '/parcels/carriers',
  list: '/parcels/carriers',
  shown: ({ business: { units, currency, country } }, carrier) =>
    carrierFormValues(carrier ?? { ...newCarrier, name: '', country }, units, currency),
  made,
  form: ({ furniture, business: { units, currency }, db }, form, carrier) =>
    h(CarrierFormPage, {
      furniture,
      form,
      carrier,
      units,
      currency,
      hubs: openPlaces(db).filter(({ part }) => part === 'hub'),
      packedAt: readParcelHabits(db).packedAt,
    }),
};
