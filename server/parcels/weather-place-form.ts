import { h } from 'preact';
import { weatherPlaceForm } from '../../shared/parcels/weather-form.ts';
import { WeatherPlaceFormPage } from '../../views/parcels/page-weather-place-form.tsx';
import type { StaffCall } from '../plumbing/call.ts';
import { readForm } from '../plumbing/forms.ts';
import type { KeptPages } from '../plumbing/kept-pages.ts';
import { keptIn } from '../plumbing/kept-things.ts';
import {
  insertWeatherPlace,
  readWeatherPlace,
  setWeatherPlaceRetired,
  updateWeatherPlace,
  type WeatherPlace,
  type WeatherPlaceValues,
  weatherPlaceNamed,
} from './queries-weather.ts';

const address = '/parcels/weather';

export const subjectOfPlace = (id: number) => `weather place ${id}`;

export const keptWeatherPlaces: KeptPages<WeatherPlace, WeatherPlaceValues> = {
  what: 'place',
  subject: subjectOfPlace,
  read: readWeatherPlace,
  named: weatherPlaceNamed,
  insert: insertWeatherPlace,
  update: updateWeatherPlace,
  setRetired: setWeatherPlaceRetired,
  address,
  list: address,
  pageOf: (id) => `${address}/${id}`,
  shown: (_call, place): Record<string, string> =>
    place
      ? {
          name: place.name,
          label: place.label,
          part: place.part,
          latitude: String(place.latitude),
          longitude: String(place.longitude),
        }
      : { part: 'destination' },
  made(call) {
    const form = readForm(weatherPlaceForm, call.body);
    return form.ok ? { ok: true, values: form.data, form: form.form } : form;
  },
  form: ({ furniture }, form, place) => h(WeatherPlaceFormPage, { furniture, form, place }),
};

export const weatherPlaceIn = (call: StaffCall): WeatherPlace => keptIn(call, keptWeatherPlaces);
