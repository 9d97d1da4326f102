import { beforeEach, expect, it } from 'vitest';
import { insertReadings } from '../../server/climate/queries-readings.ts';
import { readKeeping, thinReadings } from '../../server/climate/queries-thinning.ts';
import { waterOf } from '../../server/climate/queries-water.ts';
import { appendEntry } from '../../server/cultures/queries-diary.ts';
import { saveStages, stagesExpected } from '../../server/development/queries.ts';
import { climateClosedDays, climateDays, climateReadings } from '../../server/schema/tables.ts';
import { addDays } from '../../shared/days.ts';
import { makeCulture, makePlace, makeSpecies } from '../support/stock.ts';
import { type TestApp, testApp, testNow, testToday } from '../support/test-app.ts';

const day = 86_400_000;
const timeZone = 'Europe/Berlin';

let t: TestApp;
let room: ReturnType<typeof makePlace>;
let culture: ReturnType<typeof makeCulture>;

/** A hundred and fifty days of four readings, and a culture whose water and young are foretold from them. */
beforeEach(async () => {
  t = await testApp();
  room = makePlace(t.db, { kind: 'room', name: 'Cellar', fullName: 'Cellar' });
  const speciesId = makeSpecies(t.db).id;
  culture = makeCulture(t.db, { speciesId, placeId: room.id, foundedOn: '2026-06-01' });
  const readings = Array.from({ length: 600 }, (_, i) => ({
    at: testNow - i * (day / 4),
    tempC: 20 + Math.sin(i / 7) * 3,
    humidityPct: i % 5 === 0 ? null : 55 + (i % 9),
  }));
  insertReadings(t.db, readings, { placeId: room.id, timeZone, now: testNow, via: 'page', madeBy: null });
  const times = { coolC: 18, coolDays: 140, warmC: 25, warmDays: 90, source: 'invented' };
  saveStages(t.db, speciesId, [{ speciesId, stage: 'hatch', ...times }]);
  const put = (onDay: string, more: object) =>
    appendEntry(t.db, {
      cultureId: culture.id,
      onDay,
      via: 'page',
      madeBy: null,
      madeAt: testNow,
      kind: 'check',
      ...more,
    });
  put(addDays(testToday, -115), { eggsSeen: true });
  for (const ago of [140, 126, 112, 98, 84, 70, 56, 42, 28, 14]) {
    put(addDays(testToday, -ago), { kind: 'water', waterMl: 60 });
    put(addDays(testToday, -ago + 9), { surface: 'dry' });
  }
});

const single = () => t.db.select().from(climateReadings).all().length;
const days = () => t.db.select().from(climateDays).all();
const page = async (path: string) =>
  (await t.owner.get(path)).text.replace(/[\w-]{43}|formKey" value="[^"]*"/g, '');
const chart = async () => /<figure[\s\S]*<\/figure>/.exec(await page(`/climate/${room.id}?span=365`))?.[0];
const thinAll = (now: number) => {
  let gone = 0;
  for (let turn = 0, went = 1; turn < 50 && went > 0; turn += 1) {
    went = thinReadings(t.db, now, 70);
    expect(went).toBeLessThanOrEqual(70);
    gone += went;
  }
  return gone;
};

it('nothing that was worked out changes, nor the chart of a year: days are kept to the last digit', async () => {
  const before = {
    days: days(),
    water: waterOf(t.db, culture, testToday),
    stages: stagesExpected(t.db, culture, testToday),
    chart: await chart(),
  };
  expect(before.water?.isMeasured).toBe(true);
  expect(before.stages[0]?.startOn).toBe(addDays(testToday, -115));
  expect(before.stages[0]?.about).not.toBeNull();
  expect(before.chart).toContain('<svg');
  await t.owner.save('/settings/readings', { days: '30' });
  const kept = t.db
    .select()
    .from(climateReadings)
    .all()
    .filter(({ onDay }) => onDay >= addDays(testToday, -29)).length;
  expect(thinAll(testNow + day)).toBe(600 - kept);
  expect(single()).toBe(kept);
  expect({
    days: days(),
    water: waterOf(t.db, culture, testToday),
    stages: stagesExpected(t.db, culture, testToday),
    chart: await chart(),
  }).toEqual(before);
  const closed = t.db.select().from(climateClosedDays).all();
  expect(closed.reduce((sum, { readings }) => sum + readings, 0)).toBe(600 - kept);
});

it('nothing goes within a day of the first time or of a change; the page says what will, and what did', async () => {
  expect(readKeeping(t.db)).toEqual({ days: 90, changedAt: null });
  expect(thinReadings(t.db, testNow)).toBe(0);
  expect(thinReadings(t.db, testNow + day - 1)).toBe(0);
  const { text } = await t.owner.get('/settings/readings');
  expect(text).toMatch(/23[5-9] readings from before .*27 Aug 2026.* from .*26 Nov 2026, 12:00/s);
  const answer = await t.owner.save('/settings/readings', { days: '60' });
  expect(answer.status).toBe(303);
  expect(thinReadings(t.db, testNow + day - 1)).toBe(0);
  for (const wrong of ['29', '4000', 'many'])
    expect((await t.owner.post('/settings/readings', { days: wrong })).status).toBe(422);
  expect((await t.helper.get('/settings/readings')).status).toBe(403);
  t.clock.forward(1);
  const gone = thinAll(t.clock.now());
  expect(gone).toBeGreaterThan(300);
  expect((await t.owner.get('/settings/readings')).text).toContain(`${gone} readings of `);
});

it('a day that is thinned takes no more readings and gives none up', async () => {
  await t.owner.save('/settings/readings', { days: '30' });
  const old = addDays(testToday, -100);
  const before = days();
  // Half of the oldest days first: what is left of a day must not count as all of it.
  expect(thinReadings(t.db, testNow + day, 3)).toBe(3);
  const left = t.db.select().from(climateReadings).all().at(-1);
  const out = await t.owner.post(`/climate/${room.id}/readings/${left?.id}/take-out`);
  expect(out.status).toBe(303);
  thinAll(testNow + day);
  const hand = await t.helper.post(`/climate/${room.id}/readings`, { temp: 40, onDay: old });
  expect(hand.status).toBe(422);
  expect(hand.text).toContain('summed up');
  const reading = { at: testNow - 100 * day + 777, tempC: 40, humidityPct: 50 };
  const from = { placeId: room.id, timeZone, now: testNow, via: 'page' as const, madeBy: null };
  expect(insertReadings(t.db, [reading], from)).toBe(0);
  expect(days()).toEqual(before);
  // Another place was not thinned on that day.
  const shelf = makePlace(t.db, { kind: 'shelf', parentId: room.id });
  expect(insertReadings(t.db, [reading], { ...from, placeId: shelf.id })).toBe(1);
});

it('a place whose readings are all gone is still drawn, and the export has its days', async () => {
  await t.owner.save('/settings/readings', { days: '30' });
  thinAll(testNow + 200 * day);
  expect(single()).toBe(0);
  expect(await page(`/climate/${room.id}?span=365`)).toMatch(/Last read on .*<svg|<svg.*Last read on/s);
  expect((await t.owner.get('/climate')).text).toContain('25 Nov 2026');
  const { climate_days, climate_closed_days } = JSON.parse(await page('/records/export/everything.json'));
  expect(climate_days).toHaveLength(days().length);
  expect(climate_closed_days).toHaveLength(days().length);
});

it('what goes is found by place and day', () => {
  const seen: string[] = [];
  const prepare = t.sqlite.prepare.bind(t.sqlite);
  t.sqlite.prepare = ((sql: string) => {
    seen.push(sql);
    return prepare(sql);
  }) as typeof t.sqlite.prepare;
  thinReadings(t.db, testNow);
  thinAll(testNow + day);
  t.sqlite.prepare = prepare as typeof t.sqlite.prepare;
  const about = seen.filter((sql) => sql.includes('climate_readings'));
  expect(about.length).toBeGreaterThan(1);
  for (const sql of about) {
    const values = Array.from({ length: sql.split('?').length - 1 }, () => 1);
    const steps = prepare(`EXPLAIN QUERY PLAN ${sql}`).all(...values) as { detail: string }[];
    const reads = steps.filter(({ detail }) => /climate_readings|SEARCH r|SCAN r/.test(detail));
    for (const { detail } of reads)
      expect(detail).toMatch(/climate_readings_by_day \(place_id=\? AND on_day<\?\)|rowid/);
  }
});
