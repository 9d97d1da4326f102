import { beforeEach, describe, expect, it } from 'vitest';
import { feederDiets, feederSpecies } from '../../server/schema/tables.ts';
import { addDays } from '../../shared/days.ts';
import { isSpent, weeklyDemand } from '../../shared/feeders/demand.ts';
import { weekStart } from '../../shared/settings/week.ts';
import { makeCulture, makeEstimate, makeSpecies } from '../support/stock.ts';
import { type TestApp, testApp, testToday } from '../support/test-app.ts';

describe('demand', () => {
  it('the worked example; a colony that fills up eats more, never less than a fifth', () => {
    expect(weeklyDemand([{ perWeek: 40, fullness: 0.5, ahead: [] }], testToday, 2)).toEqual([
      { weekStart: '2026-11-23', demand: 20 },
      { weekStart: '2026-11-30', demand: 20 },
    ]);
    const growing = { perWeek: 40, fullness: 0.5, ahead: [{ date: addDays(testToday, 7), fullness: 0.75 }] };
    expect(weeklyDemand([growing], testToday, 3).map(({ demand }) => demand)).toEqual([20, 30, 30]);
    expect(weeklyDemand([{ perWeek: 40, fullness: 0, ahead: [] }], testToday, 1)[0]?.demand).toBe(8);
    expect(weeklyDemand([{ perWeek: 40, fullness: null, ahead: [] }], testToday, 1)[0]?.demand).toBe(40);
  });

  it('weeks begin on Monday', () => {
    expect(['2026-11-22', '2026-11-23', '2026-11-29', '1969-12-31'].map((day) => weekStart(day, 1))).toEqual([
      '2026-11-16',
      '2026-11-23',
      '2026-11-23',
      '1969-12-29',
    ]);
  });

  it('a culture is spent after its good days', () => {
    const culture = { leadDays: 14, productiveDays: 17 };
    expect(isSpent(addDays(testToday, -30), culture, testToday)).toBe(false);
    expect(isSpent(addDays(testToday, -31), culture, testToday)).toBe(true);
  });
});

describe('the feeder plan', () => {
  let t: TestApp;
  let flies: ReturnType<typeof makeSpecies>;
  let eater: ReturnType<typeof makeSpecies>;
  beforeEach(async () => {
    t = await testApp();
    flies = makeSpecies(t.db, { scientificName: 'Exemplum volans', animalGroup: 'fly' });
    eater = makeSpecies(t.db, { scientificName: 'Exemplum vorax' });
  });
  const figures = { leadDays: 14, productiveDays: 17, yield: 250, seedAdults: 40, safety: 1.2 };
  const plan = (more: Record<string, string | number> = {}) =>
    t.owner.save(`/feeders/${flies.id}/edit`, { ...figures, [`diet.${eater.id}`]: 40, ...more });

  it('says what to set up first: to the owner how, to a helper who', async () => {
    expect((await t.owner.get('/feeders')).text).toContain('Choose one below');
    expect((await t.helper.get('/feeders')).text).toContain('The owner sets this up.');
  });

  it('begins with what is usual for the animals, and is kept as typed', async () => {
    const { text } = await t.owner.get(`/feeders/${flies.id}/edit`);
    expect(text).toContain('common practice');
    expect(text).toMatch(/name="leadDays"[^>]*value="14"|value="14"[^>]*name="leadDays"/);
    expect((await plan()).status).toBe(303);
    expect(t.db.select().from(feederSpecies).all()).toEqual([{ speciesId: flies.id, ...figures }]);
    expect(t.db.select().from(feederDiets).all()).toEqual([
      { speciesId: eater.id, feederId: flies.id, perWeek: 40 },
    ]);
    await plan({ [`diet.${eater.id}`]: '' });
    expect(t.db.select().from(feederDiets).all()).toEqual([]);
  });

  it('refuses what cannot be, beside the field, and loses nothing that was typed', async () => {
    const answer = await plan({ seedAdults: 300, [`diet.${eater.id}`]: 'many' });
    expect(answer.status).toBe(422);
    expect(answer.text).toContain('Must be less than it gives');
    expect(answer.text).toContain('value="many"');
    expect(t.db.select().from(feederSpecies).all()).toEqual([]);
    expect((await t.helper.post(`/feeders/${flies.id}/edit`, figures)).status).toBe(403);
    expect((await t.owner.get('/feeders/999/edit')).status).toBe(404);
  });

  it('without any culture: says what to start now, and that the first weeks run short', async () => {
    await plan();
    const colony = makeCulture(t.db, { speciesId: eater.id });
    makeEstimate(t.db, colony.id, { fullnessMedian: 1 });
    const { text } = await t.helper.get('/feeders');
    expect(text).toMatch(
      /Start 1 culture this week; 2 weeks run short whatever you start, the first from 23 Nov/,
    );
    expect(text).toContain('No start can help the weeks marked short any more');
    expect(text).toContain('Supply and demand by week');
    expect(text).not.toContain('/edit');
  });

  it('counts running cultures, but not those in quarantine, and names the old ones', async () => {
    await plan();
    const colony = makeCulture(t.db, { speciesId: eater.id });
    makeEstimate(t.db, colony.id, { fullnessMedian: 1 });
    const started = (daysAgo: number, status: 'active' | 'quarantine') =>
      makeCulture(t.db, { speciesId: flies.id, foundedOn: addDays(testToday, -daysAgo), status });
    started(14, 'active');
    started(14, 'quarantine');
    const old = started(40, 'active');
    const { text } = await t.helper.get('/feeders');
    expect(text).toContain('1 culture runs');
    expect(text).toContain(`/cultures/${old.code}`);
    expect(text).toContain('old feeder cultures give little and breed mites');
  });

  it('is given up again', async () => {
    await plan();
    expect((await t.owner.post(`/feeders/${flies.id}/stop`)).status).toBe(303);
    expect(t.db.select().from(feederSpecies).all()).toEqual([]);
  });
});
