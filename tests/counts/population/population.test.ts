import { describe, expect, test } from 'vitest';
import { calculations } from '../../../shared/calculations.ts';
import { type PopulationInput, populationInput } from '../../../shared/counts/population/form.ts';
import { population } from '../../../shared/counts/population/population.ts';

const ask = (input: PopulationInput) => population(populationInput.parse(input));
const known = { median: 0.1, sdLog: 0 };
const founded: PopulationInput = {
  start: { date: '2026-01-05', animals: 12, sdLog: 0 },
  profile: { growthPerWeek: known, capacity: { median: 1000, sdLog: 0 }, processSd: 0 },
  asOf: '2026-03-16',
};
/** N ten weeks on, in closed form. */
const afterTen = (1000 * 12 * Math.E) / (1000 + 12 * (Math.E - 1));

describe('with every constant known', () => {
  test('the worked example: twelve animals after ten weeks at 0.1 a week under 1000', () => {
    const answer = ask(founded);
    expect(afterTen).toBeCloseTo(31.96, 2);
    expect(answer.now.median).toBeCloseTo(afterTen, 4);
    expect(answer.now.mean).toBeCloseTo(afterTen, 4);
    expect(answer.growthPerWeek.lower).toBeCloseTo(0.1, 10);
    expect(answer.capacity.upper).toBeCloseTo(1000, 6);
    expect(answer.fullness.median).toBeCloseTo(afterTen / 1000, 6);
    expect(answer.extinct).toBe(0);
  });

  test('the keys, the weeks ahead and their dates', () => {
    const answer = ask({ ...founded, horizonWeeks: 3, atLeast: [20, 40] });
    expect(Object.keys(answer)).toEqual([
      'now',
      'growthPerWeek',
      'capacity',
      'fullness',
      'extinct',
      'atLeast',
      'forecast',
    ]);
    expect(answer.forecast.map(({ date }) => date)).toEqual(['2026-03-23', '2026-03-30', '2026-04-06']);
    expect(answer.atLeast).toEqual([
      { animals: 20, probability: 1 },
      { animals: 40, probability: 0 },
    ]);
    expect(ask(founded).forecast).toHaveLength(8);
    expect(ask({ ...founded, horizonWeeks: 0 }).forecast).toEqual([]);
  });

  test('above its capacity a colony shrinks towards it', () => {
    const crowded = ask({ ...founded, start: { ...founded.start, animals: 3000 } });
    expect(crowded.now.median).toBeCloseTo((1000 * 3000 * Math.E) / (1000 + 3000 * (Math.E - 1)), 1);
  });

  test('removed and added shift the number exactly, in the order given on one day', () => {
    const on = (kind: 'removed' | 'added', animals: number) => ({ date: founded.asOf, kind, animals });
    expect(ask({ ...founded, events: [on('removed', 10)] }).now.median).toBeCloseTo(afterTen - 10, 3);
    expect(ask({ ...founded, events: [on('added', 10)] }).now.median).toBeCloseTo(afterTen + 10, 3);
    expect(ask({ ...founded, events: [on('removed', 50), on('added', 10)] }).now.median).toBeCloseTo(10, 3);
    expect(ask({ ...founded, events: [on('added', 10), on('removed', 50)] }).extinct).toBe(1);
  });

  test('a die-off with a known survival multiplies', () => {
    const survival = { median: 0.25, sdLog: 0 };
    const answer = ask({ ...founded, events: [{ date: founded.asOf, kind: 'die-off', survival }] });
    expect(answer.now.median).toBeCloseTo(afterTen / 4, 3);
  });
});

/** Where a single node bears everything, its grid shows: the ends of an interval are off by up to 0.3 %. */
function expectNear(actual: number, wanted: number): void {
  expect(Math.abs(actual / wanted - 1), `${actual} against ${wanted}`).toBeLessThan(0.003);
}

describe('with one thing unknown, in closed form', () => {
  test('the noise: log N is normal with variance processSd squared per week while far below the capacity', () => {
    const answer = ask({
      ...founded,
      profile: { ...founded.profile, capacity: { median: 1e7, sdLog: 0 }, processSd: 0.1 },
    });
    const sd = 0.1 * Math.sqrt(10);
    expect(Math.log(answer.now.median)).toBeCloseTo(Math.log(12) + 1, 4);
    expectNear(Math.log(answer.now.upper / answer.now.median), 1.6448536 * sd);
    expectNear(Math.log(answer.now.median / answer.now.lower), 1.6448536 * sd);
    expect(answer.now.mean / answer.now.median).toBeCloseTo(Math.exp(sd ** 2 / 2), 3);
  });

  test('the start: a full count weighs against the prior as two normals do', () => {
    const answer = ask({
      ...founded,
      start: { ...founded.start, sdLog: 0.2 },
      asOf: founded.start.date,
      events: [
        {
          date: founded.start.date,
          kind: 'count',
          method: 'full',
          counted: 1000,
          relativeSd: 2,
        },
        { date: founded.start.date, kind: 'count', method: 'full', counted: 15, relativeSd: 0.1 },
      ],
    });
    const counts = [
      { at: Math.log(12), variance: 0.2 ** 2 },
      { at: Math.log(1000), variance: 4 + 1 / 12 / 1000 ** 2 },
      { at: Math.log(15), variance: 0.1 ** 2 + 1 / 12 / 15 ** 2 },
    ];
    const weight = counts.reduce((sum, { variance }) => sum + 1 / variance, 0);
    const mean = counts.reduce((sum, { at, variance }) => sum + at / variance, 0) / weight;
    expect(Math.log(answer.now.median)).toBeCloseTo(mean, 3);
    expectNear(Math.log(answer.now.upper / answer.now.lower), (2 * 1.6448536) / Math.sqrt(weight));
  });

  test('the constants without any count: their priors', () => {
    const answer = ask({
      ...founded,
      profile: {
        growthPerWeek: { median: 0.15, sdLog: 0.6 },
        capacity: { median: 200, sdLog: 0.4 },
        processSd: 0.08,
      },
      level: 0.8,
    });
    expect(answer.growthPerWeek.median).toBeCloseTo(0.15, 4);
    expect(answer.growthPerWeek.upper / 0.15).toBeCloseTo(Math.exp(1.2815516 * 0.6), 2);
    expect(answer.capacity.lower / 200).toBeCloseTo(Math.exp(-1.2815516 * 0.4), 2);
  });

  test('a visible count of none leaves room for extinction, and more of it each time', () => {
    const none = (date: string) => ({
      date,
      kind: 'count' as const,
      method: 'visible' as const,
      counted: 0,
      detection: { alpha: 6, beta: 14 },
    });
    const taken = { date: '2026-01-12', kind: 'removed' as const, animals: 13 };
    const small: PopulationInput = { ...founded, start: { ...founded.start, sdLog: 0.1 } };
    const chances = [0, 1, 2, 3].map((looks) => {
      const events = [taken, ...['2026-01-19', '2026-01-26', '2026-02-02'].slice(0, looks).map(none)];
      return ask({ ...small, events }).extinct;
    });
    expect(chances[0]).toBeGreaterThan(0.3);
    for (let i = 1; i < chances.length; i += 1) expect(chances[i]).toBeGreaterThan(chances[i - 1]!);
  });
});

describe('faults, with their paths', () => {
  const faults = (input: object) => {
    const outcome = calculations.population!.run({ ...founded, ...input });
    return outcome.ok ? [] : outcome.faults.map(({ path, message }) => `${path}: ${message}`);
  };
  const added = (date: string) => ({ date, kind: 'added', animals: 1 });

  test('events out of order, before the start and after asOf', () => {
    expect(
      faults({
        events: [added('2026-02-02'), added('2026-02-01'), added('2025-12-01'), added('2026-04-01')],
      }),
    ).toEqual([
      'events[1].date: is before the event above it, 2026-02-02',
      'events[2].date: is before the start, 2026-01-05',
      'events[3].date: is after asOf, 2026-03-16',
    ]);
    expect(faults({ asOf: '2026-01-04' })).toEqual(['asOf: is before the start, 2026-01-05']);
  });

  test('a count that contradicts what went before names its event', () => {
    const counted = { date: '2026-02-01', kind: 'count', method: 'full', counted: 5 };
    const taken = { date: '2026-01-06', kind: 'removed', animals: 40 };
    const [first] = faults({ events: [taken, counted] });
    expect(first).toMatch(/^events\[1\]\.counted: contradicts what went before/);
  });

  test('an estimator that fails names its event and field', () => {
    const count = {
      date: '2026-02-01',
      kind: 'count',
      method: 'removal',
      catches: [1, 2],
      estimator: 'zippin',
    };
    expect(faults({ events: [count] })[0]).toMatch(/^events\[0\]\.catches: /);
  });

  test('unknown keys, wrong kinds and wrong numbers', () => {
    expect(faults({ mood: 1 })).toEqual(['mood: is not known here']);
    expect(faults({ events: [{ date: '2026-02-01', kind: 'eaten', animals: 1 }] })[0]).toMatch(
      /^events\[0\]\.kind: /,
    );
    expect(faults({ events: [{ ...added('2026-02-01'), animals: -1 }] })).toHaveLength(1);
    expect(faults({ events: [added('2026-02-30')] })).toEqual([
      'events[0].date: is not a day of the calendar',
    ]);
    expect(faults({ level: 1 })).toHaveLength(1);
  });
});
