import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { retryAtOf } from '../../server/parcels/forecast-service.ts';
import { fetchDue } from '../../server/parcels/forecasts.ts';
import {
  insertWeatherPlace,
  newestWeather,
  readFetch,
  readWeatherPlace,
  saveWeatherService,
  updateWeatherPlace,
  weatherOfPlace,
} from '../../server/parcels/queries-weather.ts';
import { weatherServices } from '../../server/schema/tables.ts';
import { daysOfHours, sunDayOf } from '../../shared/parcels/days-of-hours.ts';
import type { ServiceKey } from '../../shared/parcels/weather-form.ts';
import { type TestApp, testApp, testNow, testToday } from '../support/test-app.ts';

const hour = 3_600_000;
type Handler = (request: IncomingMessage, response: ServerResponse) => void;

let t: TestApp;
let server: Server;
let address: string;
let asked: IncomingMessage[];
let answer: Handler;

beforeEach(async () => {
  t = await testApp();
  asked = [];
  server = createServer((request, response) => {
    asked.push(request);
    answer(request, response);
  });
  await new Promise<void>((ready) => server.listen(0, '127.0.0.1', ready));
  address = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
});
afterEach(async () => {
  server.closeAllConnections();
  await new Promise((closed) => server.close(closed));
});

function json(response: ServerResponse, body: unknown, headers: Record<string, string> = {}) {
  response.writeHead(200, { 'content-type': 'application/json', ...headers }).end(JSON.stringify(body));
}

/** A Locationforecast 2.0 answer in its documented shape (api.met.no, from memory): two days by the hour. */
function compact({ unit = 'celsius', hours = 60, above = 0, from = Date.UTC(2026, 10, 24, 22) } = {}) {
  return {
    type: 'Feature',
    geometry: { type: 'Point', coordinates: [13.4, 52.5, 34] },
    properties: {
      meta: { updated_at: '2026-11-25T09:12:00Z', units: { air_temperature: unit, wind_speed: 'm/s' } },
      timeseries: Array.from({ length: hours }, (_, i) => ({
        time: new Date(from + i * hour).toISOString().replace('.000', ''),
        data: {
          instant: { details: { air_temperature: 5 + above + (i % 24) / 2, wind_speed: 3 } },
          next_1_hours: { summary: { symbol_code: 'cloudy' }, details: { precipitation_amount: 0 } },
        },
      })),
    },
  };
}

function turnOn(service: ServiceKey, at = `${address}/service`) {
  const values = { service, isOn: true, address: at, contact: 'bench@example.org', changedAt: testNow };
  saveWeatherService(t.db, values);
}
const addPlace = (latitude = 52.51234567, longitude = 13.4) =>
  insertWeatherPlace(
    t.db,
    { name: `At ${latitude}`, label: '', part: 'destination', latitude, longitude },
    testNow,
  );
const log = { info: () => undefined, error: () => undefined };
const fetchAll = (timeoutMs = 2_000) => fetchDue({ db: t.db, clock: t.clock, log, timeoutMs, pauseMs: 0 });
const troubleOf = (place: number, service: ServiceKey = 'met.no') => readFetch(t.db, place, service)?.trouble;
const daysOf = (place: number) =>
  weatherOfPlace(t.db, place, testToday).map(({ onDay, minC, maxC, source }) => [onDay, minC, maxC, source]);

describe('fetching forecasts', () => {
  it('asks nobody until the owner turns a service on', async () => {
    addPlace();
    expect(await fetchAll()).toBe(0);
    saveWeatherService(t.db, { service: 'met.no', isOn: false, address, contact: '', changedAt: testNow });
    expect(await fetchAll()).toBe(0);
    expect(asked).toHaveLength(0);
  });

  it('MET Norway: whole days by the sun, with source and the time it was made; says who asks', async () => {
    const place = addPlace();
    turnOn('met.no');
    answer = (_request, response) => json(response, compact());
    expect(await fetchAll()).toBe(1);
    expect(asked[0]?.url).toBe('/service/compact?lat=52.5123&lon=13.4');
    expect(asked[0]?.headers['user-agent']).toMatch(/^Broodbench.*bench@example\.org/);
    expect(daysOf(place)).toEqual([
      ['2026-11-25', 5, 16.5, 'MET Norway'],
      ['2026-11-26', 5, 16.5, 'MET Norway'],
    ]);
    expect(weatherOfPlace(t.db, place, testToday)[0]?.forecastAt).toBe(Date.UTC(2026, 10, 25, 9, 12));
  });

  it('keeps an answer until it expires, then asks whether anything is new', async () => {
    const place = addPlace();
    turnOn('met.no');
    const modified = 'Wed, 25 Nov 2026 09:12:00 GMT';
    const expires = new Date(testNow + 3 * hour).toUTCString();
    answer = (_request, response) => json(response, compact(), { 'last-modified': modified, expires });
    await fetchAll();
    t.clock.at += 2 * hour;
    expect(await fetchAll()).toBe(0);
    t.clock.at += 2 * hour;
    const later = new Date(t.clock.at + 5 * hour).toUTCString();
    answer = (_request, response) => void response.writeHead(304, { expires: later }).end();
    expect(await fetchAll()).toBe(1);
    expect(asked[1]?.headers['if-modified-since']).toBe(modified);
    expect(readFetch(t.db, place, 'met.no')).toMatchObject({
      lastModified: modified,
      trouble: null,
      nextAt: Date.parse(later),
    });
    expect(daysOf(place)).toHaveLength(2);
    turnOn('met.no', `${address}/elsewhere`);
    answer = (_request, response) => json(response, compact());
    expect(await fetchAll()).toBe(1);
    expect(asked[2]?.headers['if-modified-since']).toBeUndefined();
  });

  it('US National Weather Service: from a point to its grid, lows and highs with their days', async () => {
    const place = addPlace(40.7, -74);
    const abroad = addPlace(52.5, 13.4);
    turnOn('weather.gov', address);
    const span = (day: number, from: number, hours: number) =>
      `2026-11-${day}T${String(from).padStart(2, '0')}:00:00+00:00/PT${hours}H`;
    // The shape of api.weather.gov: /points, then gridpoints with their layers (from memory).
    answer = (request, response) =>
      request.url === '/points/40.7,-74'
        ? json(response, {
            properties: { gridId: 'OKX', forecastGridData: `${address}/gridpoints/OKX/33,35` },
          })
        : json(response, {
            properties: {
              updateTime: '2026-11-25T08:00:00+00:00',
              maxTemperature: {
                uom: 'wmoUnit:degC',
                values: [
                  { validTime: span(25, 12, 13), value: 9 },
                  { validTime: span(26, 12, 13), value: 11 },
                ],
              },
              minTemperature: {
                uom: 'wmoUnit:degF',
                values: [
                  { validTime: span(26, 0, 14), value: 32 },
                  { validTime: span(27, 0, 14), value: null },
                ],
              },
            },
          });
    expect(await fetchAll()).toBe(1);
    expect(asked.map(({ url }) => url)).toEqual(['/points/40.7,-74', '/gridpoints/OKX/33,35']);
    expect(daysOf(place)).toEqual([['2026-11-26', 0, 11, 'US National Weather Service']]);
    expect(daysOf(abroad)).toEqual([]);
  });

  it('a grid at another address than its own is not followed', async () => {
    const place = addPlace(40.7, -74);
    turnOn('weather.gov', address);
    answer = (_request, response) =>
      json(response, { properties: { forecastGridData: 'http://127.0.0.1:1/elsewhere' } });
    await fetchAll();
    expect(troubleOf(place, 'weather.gov')).toBe('It sends us on to another address.');
  });

  const faults: [string, Handler, RegExp][] = [
    [
      'a web page',
      (_q, r) => void r.writeHead(200).end('<!doctype html><p>Sign in'),
      /web page, not with data/,
    ],
    ['no JSON', (_q, r) => void r.writeHead(200).end('{"properties":'), /no JSON/],
    ['wrong units', (_q, r) => json(r, compact({ unit: 'fahrenheit' })), /in fahrenheit, not in celsius/],
    ['kelvin', (_q, r) => json(r, compact({ above: 273 })), /which is not worked with here/],
    ['missing days', (_q, r) => json(r, compact({ hours: 5 })), /covers no whole day/],
    ['another shape', (_q, r) => json(r, { properties: { meta: {} } }), /another shape than documented/],
    ['no such place', (_q, r) => void r.writeHead(404).end(), /knows nothing of this place/],
    ['an error of its own', (_q, r) => void r.writeHead(503, { 'retry-after': '7200' }).end(), /status 503/],
    [
      'a redirect',
      (_q, r) => void r.writeHead(302, { location: '/elsewhere' }).end(),
      /could not be reached/,
    ],
    ['a broken line', (_q, r) => void r.destroy(), /could not be reached/],
    ['silence', () => undefined, /did not answer within/],
  ];
  it.each(faults)(
    '%s is told in words, nothing is lost, and it is asked again later',
    async (_name, handler, words) => {
      const place = addPlace();
      turnOn('met.no');
      answer = (_request, response) => json(response, compact());
      await fetchAll();
      t.clock.at += 13 * hour;
      answer = handler;
      await fetchAll(handler === faults.at(-1)?.[1] ? 120 : 2_000);
      expect(troubleOf(place)).toMatch(words);
      expect(daysOf(place)).toHaveLength(2);
      expect(readFetch(t.db, place, 'met.no')!.nextAt).toBeGreaterThanOrEqual(t.clock.at + hour / 4);
      expect(await fetchAll()).toBe(0);
      answer = (_request, response) => json(response, compact());
      t.clock.at = readFetch(t.db, place, 'met.no')!.nextAt;
      expect(await fetchAll()).toBe(1);
      expect(troubleOf(place)).toBeNull();
    },
  );

  it('asked too often, it leaves the service alone for all places, as long as it asks for', async () => {
    addPlace();
    addPlace(50);
    turnOn('met.no');
    answer = (_request, response) => void response.writeHead(429, { 'retry-after': '7200' }).end();
    expect(await fetchAll()).toBe(1);
    expect(t.db.select().from(weatherServices).get()?.pausedUntil).toBe(testNow + 2 * hour);
    t.clock.at += hour;
    expect(await fetchAll()).toBe(0);
    t.clock.at += hour;
    answer = (_request, response) => json(response, compact());
    expect(await fetchAll()).toBe(2);
  });

  it('waits twice as long after each failure in a row', async () => {
    const place = addPlace();
    turnOn('met.no');
    answer = (_request, response) => void response.writeHead(500).end();
    const waits: number[] = [];
    for (let i = 0; i < 8; i += 1) {
      await fetchAll();
      const { nextAt, askedAt } = readFetch(t.db, place, 'met.no')!;
      waits.push((nextAt - askedAt) / hour);
      t.clock.at = nextAt;
    }
    expect(waits).toEqual([0.25, 0.5, 1, 2, 4, 6, 6, 6]);
  });

  it('a place that is put elsewhere loses the weather of the old one; of two sources the newer counts', async () => {
    const id = addPlace();
    turnOn('met.no');
    answer = (_request, response) => json(response, compact());
    await fetchAll();
    const newest = newestWeather(t.db, [id], testToday).get(id)!;
    expect(newest.map(({ onDay }) => onDay)).toEqual(['2026-11-25', '2026-11-26']);
    const place = readWeatherPlace(t.db, id)!;
    const { id: _id, madeAt: _at, retiredAt: _retired, ...values } = place;
    updateWeatherPlace(t.db, place, { ...values, latitude: 48 });
    expect(weatherOfPlace(t.db, id, testToday)).toEqual([]);
    expect(await fetchAll()).toBe(1);
  });
});

describe('days of hours', () => {
  it('the worked example, and the sun’s day', () => {
    expect(sunDayOf(Date.UTC(2026, 10, 25, 23), 30)).toBe('2026-11-26');
    const at = (h: number) => Date.UTC(2026, 10, 25) + h * hour;
    const hours = [0, 6, 12, 18, 24].map((h, i) => ({ at: at(h), tempC: [3, 2, 9, 6, 4][i]! }));
    expect(daysOfHours(hours, 0)).toEqual([{ date: '2026-11-25', minC: 2, maxC: 9 }]);
    expect(
      daysOfHours(
        hours.filter((_, i) => i !== 2),
        0,
      ),
    ).toEqual([]);
    expect(daysOfHours(hours.slice(2), 0)).toEqual([]);
  });

  it('a time to ask again is seconds or a date, and no more than a day is believed', () => {
    expect(retryAtOf('120', 1_000)).toBe(121_000);
    expect(retryAtOf('Wed, 25 Nov 2026 12:00:00 GMT', testNow)).toBe(testNow + hour);
    expect(retryAtOf('9999999', 0)).toBe(24 * hour);
    expect(retryAtOf('soon', 0)).toBeNull();
  });
});
