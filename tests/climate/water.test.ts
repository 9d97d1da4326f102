import { beforeEach, describe, expect, it } from 'vitest';
import { waterDueByCulture, waterOf } from '../../server/climate/queries-water.ts';
import { appendEntry, withdrawEntry } from '../../server/cultures/queries-diary.ts';
import { climateDays } from '../../server/schema/tables.ts';
import type { Look } from '../../shared/climate/cycles.ts';
import { waterExpected, waterOutlook, waterReason } from '../../shared/climate/water-outlook.ts';
import { addDays } from '../../shared/days.ts';
import { makeCulture, makePlace } from '../support/stock.ts';
import { type TestApp, testApp, testNow, testToday } from '../support/test-app.ts';

const ago = (days: number) => addDays(testToday, -days);
const look = (daysAgo: number, surface: Look['surface'], wateredMl = 0): Look => ({
  date: ago(daysAgo),
  surface,
  wateredMl,
});

describe('the outlook', () => {
  it('of one watering is what is usual for such boxes, and says so', () => {
    const outlook = waterOutlook([look(5, 'dry', 50)], [], testToday);
    expect(outlook).toMatchObject({ dueOn: addDays(testToday, 5), isLearned: false, isMeasured: false });
    expect(outlook && outlook.dryFrom! < outlook.dueOn && outlook.dueOn < outlook.dryTo!).toBe(true);
    expect(waterReason(outlook!, testToday)).toContain('how fast it dries is not known well yet');
  });

  it('learns a culture, and its chance of being dry only grows', () => {
    const looks = [40, 32, 24, 16, 8].flatMap((at) => [look(at + 1, 'moist'), look(at, 'dry', 60)]);
    const outlook = waterOutlook(looks, [], testToday);
    expect(outlook?.isLearned).toBe(true);
    expect([ago(1), testToday, addDays(testToday, 1)]).toContain(outlook?.dueOn);
    expect(outlook).toMatchObject(waterExpected(looks, [], testToday) ?? {});
    expect(waterReason(outlook!, testToday)).toMatch(
      /^water: wet 8 days ago, (likely dry by now; )?a full watering lasts it about [78] days$/,
    );
    const chances = outlook!.curve.map(({ chance }) => chance);
    expect(chances.every((chance, i) => i === 0 || chance >= chances[i - 1]! - 1e-9)).toBe(true);
  });

  it('is silent where nobody noted water or a wet surface, or not for months', () => {
    expect(waterOutlook([look(3, 'moist')], [], testToday)).toBeNull();
    expect(waterOutlook([], [], testToday)).toBeNull();
    expect(waterOutlook([look(90, 'dry', 50)], [], testToday)).toBeNull();
  });

  it('found dry without water since, it says so', () => {
    const outlook = waterOutlook([look(9, 'dry', 50), look(1, 'dry')], [], testToday);
    expect(outlook).toMatchObject({ dueOn: ago(1), foundDryOn: ago(1) });
    expect(waterReason(outlook!, testToday)).toBe('water: the surface was dry yesterday');
  });
});

describe('from the diary', () => {
  let t: TestApp;
  beforeEach(async () => {
    t = await testApp();
  });

  const by = { via: 'page', madeBy: 'person-helper', madeAt: testNow } as const;
  const water = (cultureId: number, daysAgo: number) =>
    appendEntry(t.db, { ...by, cultureId, kind: 'water', onDay: ago(daysAgo), waterMl: 50 });

  it('the day is worked out again when something is written or taken back', () => {
    const culture = makeCulture(t.db);
    const other = makeCulture(t.db);
    expect(waterDueByCulture(t.db, testToday).size).toBe(0);
    water(culture.id, 12);
    expect(waterDueByCulture(t.db, testToday).get(culture.id)?.dueOn).toBe(ago(2));
    const entry = water(culture.id, 1);
    water(other.id, 3);
    const dues = waterDueByCulture(t.db, testToday);
    expect(dues.get(culture.id)?.dueOn).toBe(addDays(testToday, 9));
    expect(dues.get(other.id)?.dueOn).toBe(addDays(testToday, 7));
    withdrawEntry(t.db, entry, by);
    expect(waterDueByCulture(t.db, testToday).get(culture.id)?.dueOn).toBe(ago(2));
    expect(waterDueByCulture(t.db, addDays(testToday, 1)).size).toBe(2);
  });

  it('retired cultures are left out', () => {
    const culture = makeCulture(t.db, { status: 'retired' });
    water(culture.id, 3);
    expect(waterDueByCulture(t.db, testToday).size).toBe(0);
    expect(waterOf(t.db, culture, testToday)).toBeNull();
  });

  it('stands on the page of the culture with its reason, its figures and what to do when nothing is known', async () => {
    const culture = makeCulture(t.db);
    const page = async () => (await t.helper.get(`/cultures/${culture.code}`)).text;
    expect(await page()).toContain('When it dries is not known');
    water(culture.id, 12);
    const text = await page();
    expect(text).toContain('Likely dry by now');
    expect(text).toContain('as in a living room: no reading of its own room yet');
    expect(text).toContain('Chance of a dry surface by day');
  });
});

describe('of many cultures', () => {
  it('the day follows the air that was measured where each stands, as its page does', async () => {
    const t = await testApp();
    const room = makePlace(t.db, { kind: 'room', name: 'Dry room' });
    const by = { via: 'page', madeBy: null, madeAt: testNow } as const;
    for (let daysAgo = 30; daysAgo >= 0; daysAgo -= 1) {
      t.db
        .insert(climateDays)
        .values({
          placeId: room.id,
          onDay: addDays(testToday, -daysAgo),
          readings: 1,
          minC: 30,
          maxC: 30,
          meanC: 30,
          meanHumidityPct: 20,
          meanVpdKpa: 3.4,
        })
        .run();
    }
    const [dry, usual] = [makeCulture(t.db, { placeId: room.id }), makeCulture(t.db)];
    for (const { id } of [dry, usual])
      appendEntry(t.db, { ...by, cultureId: id, kind: 'water', onDay: ago(1), waterMl: 50 });
    const dues = waterDueByCulture(t.db, testToday);
    for (const culture of [dry, usual])
      expect(dues.get(culture.id)?.dueOn).toBe(waterOf(t.db, culture, testToday)?.dueOn);
    expect(dues.get(dry.id)!.dueOn < dues.get(usual.id)!.dueOn).toBe(true);
  });
});
