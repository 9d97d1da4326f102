import { h } from 'preact';
import { isDay } from '../../shared/days.ts';
import { readWeather } from '../../shared/parcels/weather-file.ts';
import {
  weatherDayForm,
  weatherFileForm,
  weatherPlaceForm,
  weatherPlaceWords,
} from '../../shared/parcels/weather-form.ts';
import { fieldUnitsOf, storedFromField } from '../../shared/settings/typed-units.ts';
import { formatCount } from '../../views/layout/format.ts';
import { WeatherPlacePage, type WeatherPlacePageProps } from '../../views/parcels/page-weather-place.tsx';
import { WeatherPlaceFormPage } from '../../views/parcels/page-weather-place-form.tsx';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { changesBetween, note } from '../plumbing/audit.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import {
  differencesBetween,
  fingerprintOf,
  isWrong,
  lastSaved,
  type Outcome,
  overtaken,
  saved,
} from '../plumbing/edits.ts';
import { notFound } from '../plumbing/errors.ts';
import { readForm, typed, withErrors } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import {
  fetchesOf,
  insertWeatherPlace,
  readWeatherPlace,
  setWeatherPlaceRetired,
  takeOutWeatherDay,
  updateWeatherPlace,
  type WeatherPlace,
  weatherOfPlace,
  weatherPlaceNamed,
  writeWeatherDays,
} from './queries-weather.ts';
import { emptyForm } from './weather.ts';

const subjectOf = (id: number) => `weather place ${id}`;

function placeIn(call: StaffCall): WeatherPlace {
  const place = readWeatherPlace(call.db, numberIn(call, 'id', 'place'));
  if (!place) throw notFound('place');
  return place;
}

function placePage(call: StaffCall, place: WeatherPlace, forms: Partial<WeatherPlacePageProps> = {}) {
  return h(WeatherPlacePage, {
    furniture: call.furniture,
    place,
    days: weatherOfPlace(call.db, place.id, call.today),
    fetches: fetchesOf(call.db, place.id),
    units: call.business.units,
    timeZone: call.business.timeZone,
    now: call.clock.now(),
    mayEdit: call.who.role === 'owner',
    form: { values: { onDay: call.today }, errors: {} },
    fileForm: emptyForm,
    faults: [],
    ...forms,
  });
}

export function showWeatherPlace(call: StaffCall): Answer {
  return page(placePage(call, placeIn(call)));
}

export function addWeatherDay(call: StaffCall): Answer {
  const place = placeIn(call);
  const read = readForm(weatherDayForm, call.body);
  if (!read.ok) return wrongForm(placePage(call, place, { form: read.form }));
  const { temp } = fieldUnitsOf(call.business.units);
  const [minC, maxC] = [read.data.low, read.data.high].map((one) => storedFromField(one, temp)) as [
    number,
    number,
  ];
  const errors: Record<string, string> = {};
  if (minC < -50 || minC > 70) errors.low = 'No place has such a temperature.';
  else if (maxC < minC || maxC > 70)
    errors.high = maxC < minC ? 'Must not be below the low.' : 'No place has such a temperature.';
  if (read.data.onDay < call.today) errors.onDay = 'That day is past.';
  if (isWrong({ errors })) return wrongForm(placePage(call, place, { form: withErrors(read.form, errors) }));
  const now = call.clock.now();
  const { source, onDay } = read.data;
  const said = {
    placeId: place.id,
    source,
    forecastAt: now,
    via: 'page',
    madeBy: call.who.id,
    madeAt: now,
  } as const;
  call.once((tx) => writeWeatherDays(tx, [{ date: onDay, minC, maxC }], said));
  return redirect(`/parcels/weather/${place.id}`, 'The day is written down.');
}

export function bringPlaceWeather(call: StaffCall): Answer {
  const place = placeIn(call);
  const read = readForm(weatherFileForm, call.body);
  if (!read.ok) return wrongForm(placePage(call, place, { fileForm: read.form }));
  const upload = call.uploads.find(({ field }) => field === 'file');
  const wrong = (message: string, faults: WeatherPlacePageProps['faults'] = []) =>
    wrongForm(placePage(call, place, { fileForm: withErrors(read.form, { file: message }), faults }));
  if (!upload) return wrong('Choose a CSV file.');
  const file = readWeather(upload.bytes.toString('utf8'), call.business.units === 'us');
  if (file.refusal) return wrong(file.refusal, file.faults);
  const now = call.clock.now();
  const { source } = read.data;
  const said = {
    placeId: place.id,
    source,
    forecastAt: now,
    via: 'file',
    madeBy: call.who.id,
    madeAt: now,
  } as const;
  const written = call.once((tx) => writeWeatherDays(tx, file.rows, said));
  const why = file.faults.slice(0, 3).map(({ line, why: reason }) => ` Line ${line}: ${reason}.`);
  const left = file.leftOut > 0 ? ` ${formatCount(file.leftOut, 'line was', 'lines were')} left out.` : '';
  return redirect(
    `/parcels/weather/${place.id}`,
    `${formatCount(written, 'day is', 'days are')} written down.${left}${why.join('')}`,
  );
}

export function takeOutDay(call: StaffCall): Answer {
  const place = placeIn(call);
  const { onDay, source } = call.body;
  if (typeof onDay !== 'string' || !isDay(onDay) || typeof source !== 'string') throw notFound('day');
  call.once((tx) => {
    takeOutWeatherDay(tx, place.id, onDay, source);
    const at = call.clock.now();
    note(tx, {
      at,
      personId: call.who.id,
      action: 'took out a day',
      subject: subjectOf(place.id),
      before: { onDay, source },
    });
  });
  return redirect(`/parcels/weather/${place.id}`, 'The day is taken out.');
}

function formPage(
  call: StaffCall,
  form: FormState,
  extra: { place: WeatherPlace | null; conflict?: ReturnType<typeof conflictOf> } = { place: null },
) {
  return h(WeatherPlaceFormPage, { furniture: call.furniture, form, ...extra });
}

const valuesOf = ({ name, label, part, latitude, longitude }: WeatherPlace): Record<string, string> => ({
  name,
  label,
  part,
  latitude: String(latitude),
  longitude: String(longitude),
});

export function askNewWeatherPlace(call: StaffCall): Answer {
  return page(formPage(call, { values: { part: 'destination' }, errors: {} }));
}

export function askEditWeatherPlace(call: StaffCall): Answer {
  const place = placeIn(call);
  const values = { ...valuesOf(place), version: fingerprintOf(place) };
  return page(formPage(call, { values, errors: {} }, { place }));
}

function nameFaults(tx: Db, name: string, ownId: number | null): Record<string, string> {
  const namesake = weatherPlaceNamed(tx, name);
  return namesake && namesake.id !== ownId ? { name: 'There is a place with this name already.' } : {};
}

export function addWeatherPlace(call: StaffCall): Answer {
  const read = readForm(weatherPlaceForm, call.body);
  if (!read.ok) return wrongForm(formPage(call, read.form));
  const at = call.clock.now();
  const outcome = call.once((tx) => {
    const errors = nameFaults(tx, read.data.name, null);
    if (isWrong({ errors })) return { errors, id: 0 };
    const id = insertWeatherPlace(tx, read.data, at);
    note(tx, { at, personId: call.who.id, action: 'added', subject: subjectOf(id), after: { ...read.data } });
    return { errors, id };
  });
  if (isWrong(outcome)) return wrongForm(formPage(call, withErrors(read.form, outcome.errors)));
  return redirect(`/parcels/weather/${outcome.id}`, `${read.data.name} is written down.`);
}

function conflictOf(call: StaffCall, place: WeatherPlace, form: FormState) {
  return {
    ...lastSaved(call.db, subjectOf(place.id), call.business),
    differences: differencesBetween(valuesOf(place), form.values, weatherPlaceWords),
  };
}

export function saveWeatherPlace(call: StaffCall): Answer {
  const place = placeIn(call);
  const read = readForm(weatherPlaceForm, call.body);
  if (!read.ok) return wrongForm(formPage(call, read.form, { place }));
  const at = call.clock.now();
  const outcome = call.once((tx): Outcome => {
    const stored = readWeatherPlace(tx, place.id);
    if (!stored) throw notFound('place');
    if (fingerprintOf(stored) !== call.body.version) return overtaken;
    const errors = nameFaults(tx, read.data.name, stored.id);
    if (isWrong({ errors })) return { ...saved, errors };
    updateWeatherPlace(tx, stored, read.data);
    const changes = changesBetween<Record<string, unknown>>(stored, { ...read.data });
    note(tx, { at, personId: call.who.id, action: 'changed', subject: subjectOf(stored.id), ...changes });
    return saved;
  });
  if (outcome.overtaken) {
    const now = readWeatherPlace(call.db, place.id) ?? place;
    const form = typed(call.body);
    const values = { ...form.values, version: fingerprintOf(now) };
    return page(
      formPage(call, { values, errors: {} }, { place: now, conflict: conflictOf(call, now, form) }),
      409,
    );
  }
  if (isWrong(outcome)) return wrongForm(formPage(call, withErrors(read.form, outcome.errors), { place }));
  return redirect(`/parcels/weather/${place.id}`, `${read.data.name} is saved.`);
}

function setRetired(call: StaffCall, id: number, retired: boolean) {
  const at = call.clock.now();
  call.once((tx) => {
    setWeatherPlaceRetired(tx, id, retired ? at : null);
    const action = retired ? 'retired' : 'brought back';
    note(tx, { at, personId: call.who.id, action, subject: subjectOf(id) });
  });
}

export function retireWeatherPlace(call: StaffCall): Answer {
  const { id, name } = placeIn(call);
  setRetired(call, id, true);
  return redirect('/parcels/weather', {
    text: `${name} is not offered any more.`,
    tone: 'plain',
    undo: { action: `/parcels/weather/${id}/bring-back`, label: 'Undo' },
  });
}

export function bringBackWeatherPlace(call: StaffCall): Answer {
  const { id, name } = placeIn(call);
  setRetired(call, id, false);
  return redirect('/parcels/weather', `${name} is offered again.`);
}
