import { h } from 'preact';
import { addDays } from '../../shared/days.ts';
import { type ReadWeather, readWeather } from '../../shared/parcels/weather-file.ts';
import { weatherFileForm } from '../../shared/parcels/weather-form.ts';
import { formatCount } from '../../views/layout/format.ts';
import { WeatherPage, type WeatherPageProps } from '../../views/parcels/page-weather.tsx';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import {
  fetchesOf,
  listWeatherPlaces,
  listWeatherServices,
  newestWeather,
  type WeatherDay,
  writeWeatherDays,
} from './queries-weather.ts';

export const emptyForm: FormState = { values: {}, errors: {} };

/** The last day of those that follow one another from today on; null where today itself is missing. */
function knownUntil(days: readonly WeatherDay[], today: string): string | null {
  let until: string | null = null;
  for (const { onDay } of days) {
    if (onDay !== (until === null ? today : addDays(until, 1))) break;
    until = onDay;
  }
  return until;
}

function weatherPage(
  call: StaffCall,
  fileForm: FormState = emptyForm,
  faults: WeatherPageProps['faults'] = [],
) {
  const { db, today, furniture, business } = call;
  const places = listWeatherPlaces(db);
  const newest = newestWeather(
    db,
    places.map(({ id }) => id),
    today,
  );
  return h(WeatherPage, {
    furniture,
    units: business.units,
    now: call.clock.now(),
    mayEdit: call.who.role === 'owner',
    servicesOn: listWeatherServices(db).filter(({ isOn }) => isOn).length,
    fileForm,
    faults,
    places: places.map((place) => {
      const days = newest.get(place.id) ?? [];
      return {
        ...place,
        until: knownUntil(days, today),
        days: days.slice(0, 3),
        trouble: fetchesOf(db, place.id).find(({ trouble }) => trouble !== null)?.trouble ?? null,
      };
    }),
  });
}

export function showWeather(call: StaffCall): Answer {
  return page(weatherPage(call));
}

/** Whose word a low and a high are: of now, written down by whoever is signed in. */
export function saidNow({ clock, who }: StaffCall, source: string, via: 'page' | 'file') {
  const now = clock.now();
  return { source, forecastAt: now, via, madeBy: who.id, madeAt: now };
}

/** What came of a file, with the first lines that were left out and why. */
export function broughtWords(written: number, faults: ReadWeather['faults'], leftOut: number): string {
  const why = faults.slice(0, 3).map(({ line, why: reason }) => ` Line ${line}: ${reason}.`);
  const left = leftOut > 0 ? ` ${formatCount(leftOut, 'line was', 'lines were')} left out.` : '';
  return `${formatCount(written, 'day is', 'days are')} written down.${left}${why.join('')}`;
}

/** Rows of a file by the place they tell of; rows of a place that is not there become faults. */
function byPlace(db: Db, file: ReadWeather) {
  const ids = new Map(listWeatherPlaces(db).map(({ id, name }) => [name.toLowerCase(), id]));
  const rows = new Map<number, { date: string; minC: number; maxC: number }[]>();
  const faults = [...file.faults];
  for (const { line, place, date, minC, maxC } of file.rows) {
    const id = ids.get((place ?? '').toLowerCase());
    if (id === undefined) faults.push({ line, why: `there is no place called ${place || '(nothing)'}` });
    else rows.set(id, [...(rows.get(id) ?? []), { date, minC, maxC }]);
  }
  return { rows, faults };
}

/** A file with the lows and highs of several places. */
export function bringWeather(call: StaffCall): Answer {
  const read = readForm(weatherFileForm, call.body);
  if (!read.ok) return wrongForm(weatherPage(call, read.form));
  const upload = call.uploads.find(({ field }) => field === 'file');
  const wrong = (message: string, faults: ReadWeather['faults'] = []) =>
    wrongForm(weatherPage(call, withErrors(read.form, { file: message }), faults));
  if (!upload) return wrong('Choose a CSV file.');
  const file = readWeather(upload.bytes.toString('utf8'), call.business.units === 'us');
  if (file.refusal) return wrong(file.refusal, file.faults);
  const { rows, faults } = byPlace(call.db, file);
  if (rows.size === 0)
    return wrong(
      'No line names a place that is written down here: its column is called place.',
      faults.slice(0, 20),
    );
  const said = saidNow(call, read.data.source, 'file');
  const written = call.once((tx) => {
    let days = 0;
    for (const [placeId, own] of rows) days += writeWeatherDays(tx, own, { ...said, placeId });
    return days;
  });
  return redirect('/parcels/weather', broughtWords(written, faults, faults.length));
}
