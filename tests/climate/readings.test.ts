import request from 'supertest';
import { beforeEach, describe, expect, it } from 'vitest';
import { insertReadings } from '../../server/climate/queries-readings.ts';
import { waterOf } from '../../server/climate/queries-water.ts';
import { appendEntry } from '../../server/cultures/queries-diary.ts';
import { climateDays, climateReadings, climateSensors } from '../../server/schema/tables.ts';
import { downsample } from '../../shared/climate/downsample.ts';
import { commonRange } from '../../shared/climate/limits.ts';
import { readReadings } from '../../shared/climate/reading-file.ts';
import { vpdKpa } from '../../shared/climate/vapour.ts';
import { addDays } from '../../shared/days.ts';
import { instantInZone } from '../../shared/zone-instant.ts';
import { makeCulture, makePlace } from '../support/stock.ts';
import { type TestApp, testApp, testNow, testToday } from '../support/test-app.ts';

const berlin = 'Europe/Berlin';

describe('time in a zone', () => {
  it('noon in Berlin is eleven UTC in winter and ten in summer; doubled and missing hours come out near', () => {
    expect(instantInZone('2026-11-25', 720, berlin)).toBe(Date.UTC(2026, 10, 25, 11));
    expect(instantInZone('2026-07-25', 720, berlin)).toBe(Date.UTC(2026, 6, 25, 10));
    const hour = 3_600_000;
    for (const day of ['2026-03-29', '2026-10-25'])
      expect(
        Math.abs(instantInZone(day, 150, berlin) - (Date.parse(`${day}T02:30:00Z`) - hour)),
      ).toBeLessThanOrEqual(hour);
  });
});

describe('a file of readings', () => {
  const how = { timeZone: berlin, isUs: false, now: testNow };

  it('is read by the names of its columns; rows that cannot be read are told by their line', () => {
    const text = 'Date;Temp (°F);RH %\n2026-11-25 11:00;68;55\n25.11.2026;70;50\n2026-11-24T10:00Z;50;140\n';
    const { readings, faults, leftOut, refusal } = readReadings(text, how);
    expect(refusal).toBeNull();
    expect(readings).toEqual([{ at: Date.UTC(2026, 10, 25, 10), tempC: 20, humidityPct: 55 }]);
    expect(leftOut).toBe(2);
    expect(faults.map(({ line }) => line)).toEqual([3, 4]);
    expect(faults[0]?.why).toContain('the time is not written');
  });

  it('without a temperature, or without readings, is refused with the reason', () => {
    expect(readReadings('time,humidity\n2026-11-25,50\n', how).refusal).toMatch(/temperature/);
    expect(readReadings('time,temp\n', how).refusal).toBe('The file holds no readings.');
    expect(readReadings('', how).refusal).toBe('The file holds no readings.');
  });
});

describe('for a chart', () => {
  it('the worked example, and no extreme is lost', () => {
    const few = [
      { at: 0, value: 20 },
      { at: 1, value: 24 },
      { at: 9, value: 21 },
    ];
    expect(downsample(few, 0, 10, 2)).toEqual([
      { at: 2.5, low: 20, middle: 22, high: 24 },
      { at: 7.5, low: 21, middle: 21, high: 21 },
    ]);
    const many = Array.from({ length: 5000 }, (_, i) => ({ at: i, value: i === 3333 ? 99 : Math.sin(i) }));
    const spans = downsample(many, 0, 5000, 90);
    expect(spans.length).toBe(90);
    expect(Math.max(...spans.map(({ high }) => high))).toBe(99);
  });

  it('the range that all that is kept bears', () => {
    const kept = (scientificName: string, safeHighC: number) => ({
      scientificName,
      cultures: 2,
      lethalLowC: 0,
      safeLowC: 8,
      safeHighC,
      lethalHighC: 36,
    });
    expect(commonRange([kept('A', 29), kept('B', 27)])).toEqual({ lowC: 8, highC: 27 });
    expect(commonRange([])).toBeNull();
  });
});

describe('climate pages', () => {
  let t: TestApp;
  let room: ReturnType<typeof makePlace>;
  beforeEach(async () => {
    t = await testApp();
    room = makePlace(t.db, { kind: 'room', name: 'Cellar', fullName: 'Cellar' });
  });
  const at = () => `/climate/${room.id}`;
  const readings = () => t.db.select().from(climateReadings).all();
  const days = () => t.db.select().from(climateDays).all();

  it('say what to do first', async () => {
    expect((await t.helper.get('/climate')).text).toContain('not measured');
    expect((await t.helper.get(at())).text).toContain('Nothing was read here yet');
    expect((await t.helper.get('/climate/999')).status).toBe(404);
    const position = makePlace(t.db, { kind: 'position', parentId: room.id });
    expect((await t.helper.get(`/climate/${position.id}`)).status).toBe(404);
  });

  it('a reading by hand is kept, adds to its day, is drawn, and can be taken out', async () => {
    expect((await t.helper.post(`${at()}/readings`, { temp: '21,5', humidity: 60 })).status).toBe(303);
    await t.helper.post(`${at()}/readings`, { temp: 25, onDay: testToday, time: '08:00' });
    expect(days()).toMatchObject([
      { onDay: testToday, readings: 2, minC: 21.5, maxC: 25, meanC: 23.25, meanHumidityPct: 60 },
    ]);
    const page = await t.helper.get(`${at()}?span=2`);
    expect(page.text).toContain('Between 21.5');
    const wrong = readings().find(({ tempC }) => tempC === 25);
    expect((await t.helper.post(`${at()}/readings/${wrong?.id}/take-out`)).status).toBe(303);
    expect(days()).toMatchObject([{ readings: 1, maxC: 21.5 }]);
    expect(readings()).toHaveLength(2);
  });

  it('what cannot be right comes back beside its field with what was typed', async () => {
    const answer = await t.helper.post(`${at()}/readings`, { temp: 150, humidity: 60 });
    expect(answer.status).toBe(422);
    expect(answer.text).toContain('No room has such a temperature.');
    expect(answer.text).toContain('value="150"');
    const early = await t.helper.post(`${at()}/readings`, { temp: 20, onDay: addDays(testToday, 1) });
    expect(early.status).toBe(422);
    expect(early.text).toContain('still to come');
    expect(readings()).toEqual([]);
  });

  it('a file is brought in once, however often it is sent', async () => {
    const file = {
      field: 'file',
      name: 'r.csv',
      bytes: Buffer.from('time,temp,humidity\n2026-11-24 10:00,20,50\n2026-11-24 11:00,22,50\nnot,a,row\n'),
    };
    expect((await t.helper.upload(`${at()}/file`, file)).status).toBe(303);
    expect((await t.helper.get(at())).text).toContain(
      '2 readings are brought in; 1 row was left out. Line 4',
    );
    await t.helper.upload(`${at()}/file`, file);
    expect(readings()).toHaveLength(2);
    const none = await t.helper.upload(`${at()}/file`, { ...file, bytes: Buffer.from('a,b\n1,2\n') });
    expect(none.status).toBe(422);
    expect(none.text).toContain('No column of the first line is called time or date.');
  });

  it('the room of a culture decides how fast its water goes', () => {
    const shelf = makePlace(t.db, { kind: 'shelf', parentId: room.id });
    const culture = makeCulture(t.db, { placeId: shelf.id });
    appendEntry(t.db, {
      cultureId: culture.id,
      kind: 'water',
      onDay: testToday,
      waterMl: 50,
      via: 'page',
      madeBy: null,
      madeAt: testNow,
    });
    expect(waterOf(t.db, culture, testToday)?.isMeasured).toBe(false);
    const reading = { at: testNow - 86_400_000, tempC: 26, humidityPct: 40 };
    insertReadings(t.db, [reading], {
      placeId: room.id,
      timeZone: berlin,
      now: testNow,
      via: 'page',
      madeBy: null,
    });
    const water = waterOf(t.db, culture, testToday);
    expect(water?.isMeasured).toBe(true);
    expect(water?.vpdKpa).toBeCloseTo(vpdKpa(26, 40), 9);
    expect(water?.dueOn).toBe(addDays(testToday, 4));
  });

  describe('sensors', () => {
    const send = (token: string, body: object | string, type = 'application/json') =>
      request(t.app.server)
        .post('/api/climate')
        .set('Authorization', `Bearer ${token}`)
        .set('Content-Type', type)
        .send(typeof body === 'string' ? body : JSON.stringify(body));
    const setUp = async () => {
      const { text } = await t.owner.post(`${at()}/sensors`, { name: 'Window' });
      return (
        /id="sensor-token"[^>]*value="([^"]+)"|value="([\w-]{43})"/.exec(text)?.slice(1).find(Boolean) ?? ''
      );
    };

    it('get a token that is shown once and kept as a hash', async () => {
      const token = await setUp();
      expect(token).toMatch(/^[\w-]{43}$/);
      const [stored] = t.db.select().from(climateSensors).all();
      expect(stored?.tokenHash).toMatch(/^[0-9a-f]{64}$/);
      expect(stored?.tokenHash).not.toContain(token);
      expect((await t.owner.get(at())).text).not.toContain(token);
      expect((await t.owner.get('/records/export/everything.json')).text).not.toContain(stored?.tokenHash);
      expect((await t.owner.post(`${at()}/sensors`, { name: 'window' })).status).toBe(422);
      expect((await t.helper.post(`${at()}/sensors`, { name: 'Mine' })).status).toBe(403);
    });

    it('send one reading or those kept back; the same again adds nothing', async () => {
      const token = await setUp();
      expect((await send(token, { tempC: 21, humidityPct: 55 })).body).toEqual({ added: 1, alreadyThere: 0 });
      const kept = {
        readings: [
          { at: '2026-11-24T10:00:00Z', tempC: 20 },
          { at: '2026-11-24T11:00:00+01:00', tempC: 20 },
        ],
      };
      expect((await send(token, kept)).body).toEqual({ added: 1, alreadyThere: 1 });
      expect((await send(token, kept)).body).toEqual({ added: 0, alreadyThere: 2 });
      expect(readings()).toMatchObject([
        { via: 'sensor', placeId: room.id },
        { via: 'sensor', humidityPct: null },
      ]);
    });

    it('are told in words and numbers what is wrong', async () => {
      const token = await setUp();
      const cases: [object | string, string | undefined, number, RegExp][] = [
        [{ tempC: 'warm' }, undefined, 400, /faults/],
        [{ tempC: 21, at: '2027-01-01T00:00:00Z' }, undefined, 400, /is still to come/],
        [{ tempC: 21, colour: 1 }, undefined, 400, /faults/],
        ['{"tempC": 21', undefined, 400, /is not JSON/],
        ['tempC=21', 'application/x-www-form-urlencoded', 415, /Send JSON/],
      ];
      for (const [body, type, status, words] of cases) {
        const answer = await send(token, body, type);
        expect([answer.status, answer.headers['content-type']]).toEqual([
          status,
          expect.stringContaining('application/problem+json'),
        ]);
        expect(answer.text).toMatch(words);
      }
      expect((await send('x'.repeat(43), { tempC: 21 })).status).toBe(401);
      expect((await request(t.app.server).post('/api/climate').send({ tempC: 21 })).status).toBe(401);
      expect(readings()).toEqual([]);
    });

    it('that are stopped are not taken any more; a browser signed in is none', async () => {
      const token = await setUp();
      const [sensor] = t.db.select().from(climateSensors).all();
      expect((await t.owner.post(`/climate/sensors/${sensor?.id}/stop`)).status).toBe(303);
      expect((await send(token, { tempC: 21 })).status).toBe(401);
      expect((await t.owner.post('/api/climate', { tempC: 21 })).status).toBe(415);
      expect(readings()).toEqual([]);
    });

    it('are slowed down when they send without end', async () => {
      const token = await setUp();
      const answers: number[] = [];
      for (let i = 0; i < 32; i += 1) answers.push((await send(token, { tempC: 21 })).status);
      expect(answers.slice(0, 30)).toEqual(Array(30).fill(200));
      expect(answers.slice(30)).toEqual([429, 429]);
    });

    it('find out what to send: an OpenAPI 3.1 description', async () => {
      const { status, body } = await request(t.app.server).get('/api/climate/openapi.json');
      expect(status).toBe(200);
      expect(body).toMatchObject({
        openapi: '3.1.0',
        paths: { '/api/climate': { post: { security: [{ token: [] }] } } },
      });
      expect(JSON.stringify(body.components.schemas.Readings)).toContain('humidityPct');
    });
  });
});
