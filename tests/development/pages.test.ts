import { beforeEach, describe, expect, it } from 'vitest';
import { insertReadings } from '../../server/climate/queries-readings.ts';
import { appendEntry } from '../../server/cultures/queries-diary.ts';
import { stagesExpected } from '../../server/development/queries.ts';
import { saveFeeder } from '../../server/feeders/queries.ts';
import { speciesStages } from '../../server/schema/tables.ts';
import { addDays } from '../../shared/days.ts';
import { stageOutlook } from '../../shared/development/stage-outlook.ts';
import { usualFeeder } from '../../shared/feeders/page-form.ts';
import { makeCulture, makeSpecies } from '../support/stock.ts';
import { type TestApp, testApp, testNow, testToday } from '../support/test-app.ts';

const times = [
  { tempC: 18, days: 19 },
  { tempC: 25, days: 8.5 },
];
const steady = (from: string, days: number, tempC: number) =>
  Array.from({ length: days }, (_, i) => ({ date: addDays(from, i), minC: tempC, maxC: tempC }));

describe('the outlook of a stage', () => {
  it('the worked example: an unmeasured living room', () => {
    const outlook = stageOutlook(times, [], '2026-11-01');
    expect(outlook).toMatchObject({ about: '2026-11-13', isMeasured: false });
    expect(outlook.from! < outlook.about! && outlook.about! < outlook.to!).toBe(true);
  });

  it('in a room that was read all along, the day is where the times say', () => {
    // 19 days at 18 degrees: the first day counts, so the nineteenth ends it.
    const outlook = stageOutlook(times, steady('2026-10-01', 40, 18), '2026-10-01');
    expect(outlook.about).toBe('2026-10-19');
    expect(outlook.isMeasured).toBe(true);
  });

  it('where it is too cold nothing is foretold', () => {
    expect(stageOutlook(times, steady('2026-10-01', 20, 8), '2026-10-01')).toMatchObject({
      about: null,
      to: null,
    });
  });
});

describe('development pages', () => {
  let t: TestApp;
  let species: ReturnType<typeof makeSpecies>;
  beforeEach(async () => {
    t = await testApp();
    species = makeSpecies(t.db);
  });
  const form = {
    hatchCool: 18,
    hatchCoolDays: 19,
    hatchWarm: 25,
    hatchWarmDays: '8,5',
    hatchSource: 'own notes',
  };
  const save = (fields: Record<string, string | number>) =>
    t.owner.save(`/species/${species.id}/development`, fields);
  const look = (cultureId: number, daysAgo: number, seen: { eggsSeen?: boolean; youngSeen?: boolean }) =>
    appendEntry(t.db, {
      cultureId,
      kind: 'check',
      onDay: addDays(testToday, -daysAgo),
      ...seen,
      via: 'page',
      madeBy: null,
      madeAt: testNow,
    });

  it('the times are kept as typed; half a stage, or one that slows in the warmth, is refused beside its field', async () => {
    expect((await save(form)).status).toBe(303);
    expect(t.db.select().from(speciesStages).all()).toEqual([
      {
        speciesId: species.id,
        stage: 'hatch',
        coolC: 18,
        coolDays: 19,
        warmC: 25,
        warmDays: 8.5,
        source: 'own notes',
      },
    ]);
    expect((await t.owner.get(`/species/${species.id}/development`)).text).toContain('value="8.5"');
    const half = await save({ ...form, hatchWarmDays: '' });
    expect([half.status, half.text.includes('Fill in both times, or neither.')]).toEqual([422, true]);
    const slower = await save({ ...form, hatchWarmDays: 30 });
    expect([slower.status, slower.text.includes('Must be shorter than at the cooler one.')]).toEqual([
      422,
      true,
    ]);
    expect((await t.helper.post(`/species/${species.id}/development`, form)).status).toBe(403);
    expect((await t.owner.get('/species/999/development')).status).toBe(404);
    await save({});
    expect(t.db.select().from(speciesStages).all()).toEqual([]);
  });

  it('eggs that were noted foretell young, until young are seen', async () => {
    await save(form);
    const culture = makeCulture(t.db, { speciesId: species.id });
    const page = async () => (await t.helper.get(`/cultures/${culture.code}`)).text;
    expect(await page()).not.toContain('Young and adults');
    look(culture.id, 12, { eggsSeen: true });
    look(culture.id, 5, { eggsSeen: true });
    expect(stagesExpected(t.db, culture, testToday)).toMatchObject([
      { stage: 'hatch', startOn: addDays(testToday, -12) },
    ]);
    expect(await page()).toMatch(/Young about 25 Nov \(.*\)\. Look for young now/);
    look(culture.id, 1, { youngSeen: true });
    expect(await page()).not.toContain('Young and adults');
  });

  it('a feeder culture foretells its first adults, by the warmth of its own room', () => {
    t.db
      .insert(speciesStages)
      .values({
        speciesId: species.id,
        stage: 'adult',
        coolC: 18,
        coolDays: 19,
        warmC: 25,
        warmDays: 8.5,
        source: 'x',
      })
      .run();
    const culture = makeCulture(t.db, { speciesId: species.id, foundedOn: addDays(testToday, -5) });
    expect(stagesExpected(t.db, culture, testToday)).toEqual([]);
    saveFeeder(t.db, { speciesId: species.id, ...usualFeeder.fly }, new Map());
    const before = stagesExpected(t.db, culture, testToday)[0];
    const readings = [5, 4, 3, 2, 1].map((ago) => ({
      at: testNow - ago * 86_400_000,
      tempC: 26,
      humidityPct: null,
    }));
    const from = {
      placeId: culture.placeId ?? 0,
      timeZone: 'Europe/Berlin',
      now: testNow,
      via: 'page' as const,
      madeBy: null,
    };
    insertReadings(t.db, readings, from);
    const after = stagesExpected(t.db, culture, testToday)[0];
    expect(after).toMatchObject({ stage: 'adult', isMeasured: true });
    expect(after!.about! < before!.about!).toBe(true);
  });
});
