import { beforeEach, describe, expect, it } from 'vitest';
import { insertReadings } from '../../server/climate/queries-readings.ts';
import { airNow } from '../../server/climate/queries-warnings.ts';
import { climateSensors } from '../../server/schema/tables.ts';
import { airWarnings, stretchBeyond } from '../../shared/climate/air-warning.ts';
import { makeCulture, makePlace, makeSpecies } from '../support/stock.ts';
import { type TestApp, testApp, testNow } from '../support/test-app.ts';

const minute = 60_000;
const hour = 60 * minute;
const bare = (html: string) => html.replace(/<[^>]*>/g, '').replace(/\s+/g, ' ');

describe('readings beyond a limit', () => {
  const limit = { side: 'above', limitC: 28 } as const;
  const series = (...temps: number[]) => temps.map((tempC, i) => ({ at: i * 5 * minute, tempC }));
  const at = (readings: { at: number }[]) => readings.at(-1)?.at ?? 0;
  const since = (...temps: number[]) =>
    stretchBeyond(series(...temps), limit, at(series(...temps)))?.sinceAt ?? null;

  it('the worked examples', () => {
    const one = [{ at: 0, tempC: 29, isSensor: false }];
    expect(stretchBeyond(one, limit, minute)).toEqual({ sinceAt: 0, isSinceKnown: false, farthestC: 29 });
    const kept = { lethalLowC: 0, safeLowC: 8, safeHighC: 28, lethalHighC: 36 };
    const warnings = airWarnings(
      [{ at: 0, tempC: 31, isSensor: false }],
      [{ scientificName: 'Exemplum', cultures: 2, ...kept }],
      0,
    );
    expect(warnings[0]?.species).toEqual([
      { scientificName: 'Exemplum', cultures: 2, limitC: 28, deadlyC: null },
    ]);
  });

  it('a temperature about the limit does not come and go', () => {
    expect(since(27, 28)).toBeNull();
    expect(since(27, 28.2, 27.8, 28.1, 27.6)).toBe(5 * minute);
    // Two sensors that differ by a degree.
    expect(since(27, 28.4, 27.3, 28.4, 27.3)).toBe(5 * minute);
    expect(since(27, 28.4, 27.3, 27.3, 27.3)).toBeNull();
    expect(since(27, 28.4, 27.3, 27.3, 27.3, 29)).toBe(25 * minute);
  });

  it('the limit below works the same way', () => {
    const cold = series(10, 7.5, 8.2);
    expect(stretchBeyond(cold, { side: 'below', limitC: 8 }, at(cold))).toEqual({
      sinceAt: 5 * minute,
      isSinceKnown: true,
      farthestC: 7.5,
    });
  });
});

describe('places out of range', () => {
  let t: TestApp;
  let room: ReturnType<typeof makePlace>;
  let shelf: ReturnType<typeof makePlace>;
  let code: string;
  beforeEach(async () => {
    t = await testApp();
    room = makePlace(t.db, { kind: 'room', name: 'Cellar', fullName: 'Cellar' });
    shelf = makePlace(t.db, { kind: 'shelf', parentId: room.id });
    const speciesId = makeSpecies(t.db, {
      scientificName: 'Exemplum calidum',
      safeHighC: 28,
      lethalHighC: 35,
      checkEveryDays: 7,
    }).id;
    code = makeCulture(t.db, { speciesId, placeId: shelf.id, foundedOn: '2026-11-01' }).code;
  });
  const read = (placeId: number, temps: [hoursAgo: number, tempC: number][], sensorId?: number) =>
    insertReadings(
      t.db,
      temps.map(([ago, tempC]) => ({ at: testNow - ago * hour, tempC, humidityPct: 50 })),
      {
        placeId,
        timeZone: 'Europe/Berlin',
        now: testNow,
        ...(sensorId === undefined ? { via: 'page', madeBy: null } : { via: 'sensor', sensorId }),
      },
    );
  const everywhere = () => ['/round', `/cultures/${code}`, '/climate', `/climate/${room.id}`];
  const texts = async () =>
    Promise.all(everywhere().map(async (path) => bare((await t.helper.get(path)).text)));

  it('are told on the round, the page of the culture and the climate, with since when and what is usual', async () => {
    read(room.id, [
      [4, 27],
      [2, 30],
      [0.5, 31],
    ]);
    for (const text of await texts())
      expect(text).toMatch(
        /Needs you: Cellar is at 31.°C, since 10:00 too warm for Exemplum calidum \(up to 28.°C\)\. Measure beside/,
      );
    const round = bare((await t.helper.get('/round')).text);
    expect(round.match(/too warm for/g)).toHaveLength(1);
  });

  it('are told of once, before the first place of the room; also where nothing is due there', async () => {
    const second = makePlace(t.db, { kind: 'shelf', parentId: room.id });
    makeCulture(t.db, { placeId: second.id, foundedOn: '2026-11-01' });
    read(room.id, [[0.5, 31]]);
    const { text } = await t.helper.get('/round');
    expect(text.match(/class="[^"]*air-warning/g)).toHaveLength(1);
    expect(text.indexOf('air-warning')).toBeGreaterThan(text.indexOf(`id="place-${shelf.id}"`));
    expect(text.indexOf('air-warning')).toBeLessThan(text.indexOf(`id="place-${second.id}"`));
    await t.helper.post('/round/all-well', { codes: code });
    const oven = makePlace(t.db, { kind: 'room', name: 'Oven', fullName: 'Oven' });
    const warm = makeSpecies(t.db, { checkEveryDays: 60, safeHighC: 28 }).id;
    makeCulture(t.db, { speciesId: warm, placeId: oven.id, foundedOn: '2026-11-24' });
    read(oven.id, [[0.5, 33]]);
    expect((await t.helper.get('/round')).text).toMatch(/Oven<\/a> is at/);
  });

  it('what animals do not survive is said as harm, with the farthest it was', async () => {
    read(room.id, [
      [3, 36],
      [0.5, 30],
    ]);
    const [round] = await texts();
    expect(round).toMatch(
      /Take care: Cellar is at 30.°C, at least since 09:00 too warm for .* It was up to 36.°C\. Deadly above 35.°C for Exemplum calidum\./,
    );
  });

  it('the nearest place counts, as long as its readings are not old', async () => {
    read(room.id, [[0.5, 31]]);
    read(shelf.id, [[1, 22]]);
    for (const text of await texts()) expect(text).not.toContain('too warm');
    t.clock.at += 36 * hour;
    read(room.id, [[-35.9, 31]]);
    expect(airNow(t.db, t.clock.now()).warnings.map(({ place }) => place)).toEqual(['Cellar']);
  });

  it('an old reading says its age, that of a silent sensor that nobody knows, and a day later nothing', async () => {
    read(room.id, [[0, 31]]);
    const { id } = t.db
      .insert(climateSensors)
      .values({ placeId: shelf.id, name: 'Shelf', tokenHash: 'a'.repeat(64), madeAt: testNow })
      .returning()
      .get();
    t.clock.at += 5 * hour;
    expect((await texts())[1]).toContain('Read at 12:00.');
    read(shelf.id, [[0.5, 32]], id);
    expect((await texts())[1]).toMatch(
      /was at 32.°C, .*No reading since 11:30: what it is now nobody knows\./,
    );
    expect((await texts())[2]).toContain('no reading since');
    t.clock.at += 40 * hour;
    for (const text of await texts()) expect(text).not.toContain('too warm');
  });

  it('no reading is looked at but by its place and time, however many there are', async () => {
    read(room.id, [
      [30, 27],
      [1, 31],
    ]);
    const seen: string[] = [];
    const prepare = t.sqlite.prepare.bind(t.sqlite);
    t.sqlite.prepare = ((sql: string) => {
      seen.push(sql);
      return prepare(sql);
    }) as typeof t.sqlite.prepare;
    airNow(t.db, testNow);
    t.sqlite.prepare = prepare as typeof t.sqlite.prepare;
    const plans = seen
      .filter((sql) => sql.includes('climate_readings'))
      .map((sql) => {
        const values = Array.from({ length: sql.split('?').length - 1 }, () => 1);
        const rows = prepare(`EXPLAIN QUERY PLAN ${sql}`).all(...values) as { detail: string }[];
        return rows.map(({ detail }) => detail).filter((one) => /climate_readings|SEARCH r|SCAN r/.test(one));
      });
    expect(plans).toHaveLength(2);
    for (const step of plans.flat())
      expect(step).toMatch(/SEARCH .* USING INDEX climate_readings_by_place \(place_id=\? AND at>\?\)/);
  });
});
