import { beforeEach, describe, expect, it } from 'vitest';
import {
  listWeatherPlaces,
  newestWeather,
  placeWeatherOf,
  weatherOfPlace,
} from '../../server/parcels/queries-weather.ts';
import { audit, weatherDays, weatherPlaces, weatherServices } from '../../server/schema/tables.ts';
import { readWeather } from '../../shared/parcels/weather-file.ts';
import { ageWords } from '../../views/parcels/say-weather.ts';
import { type TestApp, testApp, testNow, testToday } from '../support/test-app.ts';

let t: TestApp;
beforeEach(async () => {
  t = await testApp();
});

const home = { name: 'Home', label: '10115', part: 'origin', latitude: '52.5', longitude: '13.4' };
const file = (text: string) => ({ field: 'file', name: 'weather.csv', bytes: Buffer.from(text) });
const hour = 3_600_000;

describe('weather on the way', () => {
  it('a place and its days by hand; source and age stand beside them', async () => {
    expect((await t.owner.get('/parcels/weather')).text).toContain('No places yet');
    await t.owner.post('/parcels/weather', home);
    expect(t.db.select().from(weatherPlaces).get()).toMatchObject({
      latitude: 52.5,
      part: 'origin',
      label: '10115',
    });
    const day = { onDay: testToday, low: '-2,5', high: '4', source: 'the radio' };
    await t.helper.post('/parcels/weather/1/days', day);
    t.clock.at += 3 * hour;
    const { text } = await t.helper.get('/parcels/weather');
    expect(text).toContain('the radio');
    expect(text).toContain('3 hours old');
    expect(text).toContain('−2.5 to 4\u00a0°C');
    t.clock.at += 30 * hour;
    expect((await t.helper.get('/parcels/weather/1')).text).toContain('Nothing is known of the days to come');
  });

  it('of two sources the newer forecast counts; an older one of the same source changes nothing', async () => {
    await t.owner.post('/parcels/weather', home);
    const say = (source: string, high: string) =>
      t.owner.post('/parcels/weather/1/days', { onDay: testToday, low: '0', high, source });
    await say('radio', '5');
    t.clock.at += hour;
    await say('paper', '7');
    const newest = () => newestWeather(t.db, [1], testToday).get(1)!;
    expect(newest()).toMatchObject([{ source: 'paper', maxC: 7 }]);
    expect(weatherOfPlace(t.db, 1, testToday).map(({ source }) => source)).toEqual(['paper', 'radio']);
    t.clock.at += hour;
    await say('radio', '9');
    expect(newest()).toMatchObject([{ source: 'radio', maxC: 9 }]);
    expect(t.db.select().from(weatherDays).all()).toHaveLength(2);
    const [place] = listWeatherPlaces(t.db);
    expect(placeWeatherOf(place!, newest())).toEqual({
      name: 'Home',
      latitude: 52.5,
      days: [{ date: testToday, minC: 0, maxC: 9 }],
    });
    await t.owner.post('/parcels/weather/1/take-out', { onDay: testToday, source: 'radio' });
    expect(newest()).toMatchObject([{ source: 'paper' }]);
  });

  it('a file for several places; lines of places that are not there are told', async () => {
    await t.owner.post('/parcels/weather', home);
    await t.owner.post('/parcels/weather', { ...home, name: 'Hub', part: 'hub' });
    const csv =
      'place;date;low;high\nhome;2026-11-25;1;5\nHub;2026-11-25;2,5;6\nMoon;2026-11-25;1;2\nHub;26.11.2026;1;2\n';
    const answer = await t.helper.upload('/parcels/weather/file', file(csv), { source: 'the paper' });
    const { text } = await t.helper.get(answer.headers.location as string);
    expect(text).toContain('2 days are written down. 2 lines were left out.');
    expect(text).toContain('there is no place called Moon');
    expect(weatherOfPlace(t.db, 2, testToday)).toMatchObject([{ minC: 2.5, maxC: 6, via: 'file' }]);
    const one = 'date,low (F),high (F)\n2026-11-26,32,50\n';
    await t.helper.upload('/parcels/weather/1/file', file(one), { source: 'the paper' });
    expect(weatherOfPlace(t.db, 1, testToday).at(-1)).toMatchObject({
      onDay: '2026-11-26',
      minC: 0,
      maxC: 10,
    });
  });

  it('nonsense comes back with what was typed and a message beside the field', async () => {
    const wrongPlaces: [object, RegExp][] = [
      [{ latitude: '95' }, /Must be between -90 and 90/],
      [{ longitude: 'east' }, /Write a number/],
      [{ name: ' ' }, /Give it a name/],
      [{ part: 'moon' }, /Choose what it is/],
    ];
    for (const [wrong, words] of wrongPlaces) {
      const answer = await t.owner.post('/parcels/weather', { ...home, label: 'stays', ...wrong });
      expect(answer.status).toBe(422);
      expect(answer.text).toMatch(words);
      expect(answer.text).toContain('stays');
    }
    await t.owner.post('/parcels/weather', home);
    expect((await t.owner.post('/parcels/weather', { ...home, name: 'HOME' })).text).toContain(
      'this name already',
    );
    const day = { onDay: testToday, low: '3', high: '1', source: 'me' };
    expect((await t.owner.post('/parcels/weather/1/days', day)).text).toContain('Must not be below the low.');
    expect((await t.owner.post('/parcels/weather/1/days', { ...day, low: '-70' })).status).toBe(422);
    expect(
      (await t.owner.post('/parcels/weather/1/days', { ...day, high: '9', onDay: '2026-11-01' })).text,
    ).toContain('That day is past.');
    const files: [string, RegExp][] = [
      ['', /holds no days/],
      ['date,temperature\n2026-11-25,3\n', /called low/],
      ['date,low,high\n2026-11-25,9,3\n', /No line of the file could be read/],
    ];
    for (const [text, words] of files)
      expect((await t.owner.upload('/parcels/weather/1/file', file(text), { source: 'x' })).text).toMatch(
        words,
      );
    expect(t.db.select().from(weatherDays).all()).toEqual([]);
  });

  it('two who edit a place at once both see what is stored; retiring can be undone', async () => {
    await t.owner.post('/parcels/weather', home);
    const page = await t.owner.get('/parcels/weather/1/edit');
    const version = /name="version" value="([^"]+)"/.exec(page.text)?.[1] ?? '';
    await t.owner.post('/parcels/weather/1/edit', { ...home, label: '10117', version });
    const late = await t.owner.post('/parcels/weather/1/edit', { ...home, label: '10119', version });
    expect(late.status).toBe(409);
    expect(late.text).toContain('10117');
    await t.owner.post('/parcels/weather/1/retire');
    expect(listWeatherPlaces(t.db)[0]?.retiredAt).toBe(testNow);
    await t.owner.post('/parcels/weather/1/bring-back');
    expect(listWeatherPlaces(t.db)[0]?.retiredAt).toBeNull();
  });

  it('only the owner changes places and services', async () => {
    await t.owner.post('/parcels/weather', home);
    expect((await t.helper.post('/parcels/weather', home)).status).toBe(403);
    expect((await t.helper.get('/parcels/weather/services')).status).toBe(403);
    expect((await t.helper.post('/parcels/weather/services/met.no', { isOn: 'yes' })).status).toBe(403);
    expect((await t.outsider.get('/parcels/weather/1')).status).toBe(303);
    expect((await t.owner.get('/parcels/weather/7')).status).toBe(404);
    expect((await t.owner.post('/parcels/weather/services/elsewhere', {})).status).toBe(404);
  });
});

describe('forecast services', () => {
  const address = 'https://forecast.example.org/2.0';

  it('are off; turning one on needs a contact, and stands in the record of changes', async () => {
    const { text } = await t.owner.get('/parcels/weather/services');
    expect(text).toContain('MET Norway: off');
    expect(text).toContain('US National Weather Service: off');
    expect(text).toContain('value="bench@example.org"');
    const page = '/parcels/weather/services';
    const save = (fields: Record<string, string>) => t.owner.save(`${page}/met.no`, fields, page);
    expect((await save({ address, contact: '', isOn: 'yes' })).text).toContain(
      'Their terms ask for a contact',
    );
    expect((await save({ address: 'file:///etc', contact: 'x', isOn: 'yes' })).text).toContain(
      'begins with https://',
    );
    expect((await save({ address, contact: 'a\u0000b\r\nx: y', isOn: 'yes' })).status).toBe(422);
    expect(t.db.select().from(weatherServices).all()).toEqual([]);
    await save({ address, contact: 'bench@example.org', isOn: 'yes' });
    expect(t.db.select().from(weatherServices).get()).toMatchObject({
      service: 'met.no',
      isOn: true,
      address,
    });
    expect((await t.owner.get('/parcels/weather/services')).text).toContain('MET Norway: on');
    await save({ address, contact: 'bench@example.org' });
    expect(t.db.select().from(weatherServices).get()?.isOn).toBe(false);
    const actions = t.db
      .select()
      .from(audit)
      .all()
      .map(({ action }) => action);
    expect(actions).toEqual(expect.arrayContaining(['turned on', 'turned off']));
  });
});

describe('weather in words and files', () => {
  it('the age of a forecast', () => {
    expect(ageWords(testNow, testNow + hour / 2)).toBe('less than an hour old');
    expect(ageWords(testNow, testNow + 26 * hour)).toBe('26 hours old');
    expect(ageWords(testNow, testNow + 50 * hour)).toBe('2 days old');
  });

  it('the worked example of a file', () => {
    expect(readWeather('date,low,high\n2026-11-25,3,9\n', false).rows).toEqual([
      { line: 2, place: null, date: '2026-11-25', minC: 3, maxC: 9 },
    ]);
  });
});
