import { h } from 'preact';
import { isDay } from '../../shared/days.ts';
import { readWeather } from '../../shared/parcels/weather-file.ts';
import { weatherDayForm, weatherFileForm } from '../../shared/parcels/weather-form.ts';
import { fieldUnitsOf, storedFromField } from '../../shared/settings/typed-units.ts';
import { WeatherPlacePage, type WeatherPlacePageProps } from '../../views/parcels/page-weather-place.tsx';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { isWrong } from '../plumbing/edits.ts';
import { notFound } from '../plumbing/errors.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import {
  fetchesOf,
  takeOutWeatherDay,
  type WeatherPlace,
  weatherOfPlace,
  writeWeatherDays,
} from './queries-weather.ts';
import { broughtWords, emptyForm, saidNow } from './weather.ts';
import { subjectOfPlace, weatherPlaceIn } from './weather-place-form.ts';

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
  return page(placePage(call, weatherPlaceIn(call)));
}

export function addWeatherDay(call: StaffCall): Answer {
  const place = weatherPlaceIn(call);
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
  const { source, onDay } = read.data;
  const said = saidNow(call, source, 'page');
  call.once((tx) => writeWeatherDays(tx, [{ date: onDay, minC, maxC }], { ...said, placeId: place.id }));
  return redirect(`/parcels/weather/${place.id}`, 'The day is written down.');
}

export function bringPlaceWeather(call: StaffCall): Answer {
  const place = weatherPlaceIn(call);
  const read = readForm(weatherFileForm, call.body);
  if (!read.ok) return wrongForm(placePage(call, place, { fileForm: read.form }));
  const upload = call.uploads.find(({ field }) => field === 'file');
  const wrong = (message: string, faults: WeatherPlacePageProps['faults'] = []) =>
    wrongForm(placePage(call, place, { fileForm: withErrors(read.form, { file: message }), faults }));
  if (!upload) return wrong('Choose a CSV file.');
  const file = readWeather(upload.bytes.toString('utf8'), call.business.units === 'us');
  if (file.refusal) return wrong(file.refusal, file.faults);
  const { source } = read.data;
  const said = saidNow(call, source, 'file');
  const written = call.once((tx) => writeWeatherDays(tx, file.rows, { ...said, placeId: place.id }));
  return redirect(`/parcels/weather/${place.id}`, broughtWords(written, file.faults, file.leftOut));
}

export function takeOutDay(call: StaffCall): Answer {
  const place = weatherPlaceIn(call);
  const { onDay, source } = call.body;
  if (typeof onDay !== 'string' || !isDay(onDay) || typeof source !== 'string') throw notFound('day');
  call.once((tx) => {
    takeOutWeatherDay(tx, place.id, onDay, source);
    const at = call.clock.now();
    note(tx, {
      at,
      personId: call.who.id,
      action: 'took out a day',
      subject: subjectOfPlace(place.id),
      before: { onDay, source },
    });
  });
  return redirect(`/parcels/weather/${place.id}`, 'The day is taken out.');
}
