import { h } from 'preact';
import { weatherPlaceForm, weatherPlaceWords } from '../../shared/parcels/weather-form.ts';
import { WeatherPlaceFormPage } from '../../views/parcels/page-weather-place-form.tsx';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { differencesBetween, fingerprintOf, isWrong, lastSaved } from '../plumbing/edits.ts';
import { readForm, typed, withErrors } from '../plumbing/forms.ts';
import { addKept, type Kept, keptIn, saveKept, setKeptRetired } from '../plumbing/kept-things.ts';
import {
  insertWeatherPlace,
  readWeatherPlace,
  setWeatherPlaceRetired,
  updateWeatherPlace,
  type WeatherPlace,
  type WeatherPlaceValues,
  weatherPlaceNamed,
} from './queries-weather.ts';

export const subjectOfPlace = (id: number) => `weather place ${id}`;

const keptPlaces: Kept<WeatherPlace, WeatherPlaceValues> = {
  what: 'place',
  subject: subjectOfPlace,
  read: readWeatherPlace,
  named: weatherPlaceNamed,
  insert: insertWeatherPlace,
  update: updateWeatherPlace,
  setRetired: setWeatherPlaceRetired,
};

export const weatherPlaceIn = (call: StaffCall): WeatherPlace => keptIn(call, keptPlaces);

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
  const place = weatherPlaceIn(call);
  const values = { ...valuesOf(place), version: fingerprintOf(place) };
  return page(formPage(call, { values, errors: {} }, { place }));
}

export function addWeatherPlace(call: StaffCall): Answer {
  const read = readForm(weatherPlaceForm, call.body);
  if (!read.ok) return wrongForm(formPage(call, read.form));
  const outcome = addKept(call, keptPlaces, read.data);
  if (isWrong(outcome)) return wrongForm(formPage(call, withErrors(read.form, outcome.errors)));
  return redirect(`/parcels/weather/${outcome.id}`, `${read.data.name} is written down.`);
}

function conflictOf(call: StaffCall, place: WeatherPlace, form: FormState) {
  return {
    ...lastSaved(call.db, subjectOfPlace(place.id), call.business),
    differences: differencesBetween(valuesOf(place), form.values, weatherPlaceWords),
  };
}

export function saveWeatherPlace(call: StaffCall): Answer {
  const place = weatherPlaceIn(call);
  const read = readForm(weatherPlaceForm, call.body);
  if (!read.ok) return wrongForm(formPage(call, read.form, { place }));
  const outcome = saveKept(call, keptPlaces, place.id, read.data);
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

export function retireWeatherPlace(call: StaffCall): Answer {
  const { id, name } = weatherPlaceIn(call);
  setKeptRetired(call, keptPlaces, id, true);
  return redirect('/parcels/weather', {
    text: `${name} is not offered any more.`,
    tone: 'plain',
    undo: { action: `/parcels/weather/${id}/bring-back`, label: 'Undo' },
  });
}

export function bringBackWeatherPlace(call: StaffCall): Answer {
  const { id, name } = weatherPlaceIn(call);
  setKeptRetired(call, keptPlaces, id, false);
  return redirect('/parcels/weather', `${name} is offered again.`);
}
