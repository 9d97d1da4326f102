import { h } from 'preact';
import { type ServiceKey, serviceKeys, weatherServiceForm } from '../../shared/parcels/weather-form.ts';
import { WeatherServicesPage } from '../../views/parcels/page-weather-services.tsx';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { filledWith, isOvertaken, type Outcome, overtaken, saved, tooLate } from '../plumbing/edits.ts';
import { notFound } from '../plumbing/errors.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import { forecastServices } from './forecasts.ts';
import { listWeatherServices, saveWeatherService } from './queries-weather.ts';

function keptNow({ business }: StaffCall, db: Db, key: ServiceKey) {
  const set = listWeatherServices(db).find(({ service }) => service === key);
  const usual = forecastServices.find((one) => one.key === key);
  return {
    address: set?.address ?? usual?.address ?? '',
    contact: set?.contact || business.email,
    ...(set?.isOn ? { isOn: 'yes' } : {}),
  };
}

function servicesPage(call: StaffCall, wrong: { key: ServiceKey; form: FormState } | null = null) {
  const sets = new Map(listWeatherServices(call.db).map((set) => [set.service, set]));
  const now = call.clock.now();
  return h(WeatherServicesPage, {
    furniture: call.furniture,
    timeZone: call.business.timeZone,
    services: forecastServices.map(({ key, source, where }) => {
      const set = sets.get(key);
      const pausedUntil = set?.pausedUntil && set.pausedUntil > now ? set.pausedUntil : null;
      const form = wrong?.key === key ? wrong.form : filledWith(keptNow(call, call.db, key));
      return { key, source, where, isOn: set?.isOn ?? false, pausedUntil, form };
    }),
  });
}

export function showWeatherServices(call: StaffCall): Answer {
  return page(servicesPage(call));
}

/** Turns a service on or off; with where it is asked, and whom it may write to. */
export function changeWeatherService(call: StaffCall): Answer {
  const key = serviceKeys.find((one) => one === call.params.service);
  if (!key) throw notFound('service');
  const read = readForm(weatherServiceForm, call.body);
  if (!read.ok) return wrongForm(servicesPage(call, { key, form: read.form }));
  const isOn = read.data.isOn === 'yes';
  if (isOn && read.data.contact === '') {
    const errors = { contact: 'Their terms ask for a contact: an e-mail address or a web page.' };
    return wrongForm(servicesPage(call, { key, form: withErrors(read.form, errors) }));
  }
  const at = call.clock.now();
  const { address, contact } = read.data;
  const subject = `weather ${key}`;
  const outcome = call.once((tx): Outcome => {
    if (isOvertaken(call, keptNow(call, tx, key))) return overtaken;
    saveWeatherService(tx, { service: key, isOn, address, contact, changedAt: at });
    const after = { isOn, address, contact };
    note(tx, {
      at,
      personId: call.who.id,
      action: isOn ? 'turned on' : 'turned off',
      subject,
      after,
    });
    return saved;
  });
  if (outcome.overtaken) {
    const form = tooLate(call, keptNow(call, call.db, key), { subject });
    return page(servicesPage(call, { key, form }), 409);
  }
  return redirect(
    '/parcels/weather/services',
    isOn ? 'It is on: within a minute it is asked about your places.' : 'It is off: nobody is asked.',
  );
}
