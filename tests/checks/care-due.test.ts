import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CareFacts, careDue, fruitDays } from '../../shared/checks/care-due.ts';
import { countDue } from '../../shared/checks/count-due.ts';
import { addDays } from '../../shared/days.ts';

const today = '2026-11-25';
const facts: CareFacts = {
  foundedOn: '2026-01-01',
  lastCheckOn: '2026-11-20',
  checkEveryDays: 7,
  lastFedOn: null,
  feedEveryDays: 7,
  left: null,
  fruitSince: null,
  surface: null,
  lastWateredOn: null,
  dries: null,
  stages: [],
  substrateMonths: null,
  renewedOn: null,
  spentOn: null,
  number: null,
  lastCountOn: null,
};
const due = (changed: Partial<CareFacts>, what: string) =>
  careDue({ ...facts, ...changed }, today).find((one) => one.what === what);

describe('what a culture wants', () => {
  it('is the look alone where nothing else is known', () => {
    expect(careDue(facts, today)).toEqual([
      {
        what: 'check',
        dueOn: '2026-11-27',
        overdueDays: -2,
        reason: 'last checked 5 days ago, wants it every 7 days',
        sum: { since: 'checked', from: '2026-11-20', days: 7 },
      },
    ]);
  });

  it.each([
    [{ lastFedOn: '2026-11-17' }, '2026-11-24', 'food: fed 8 days ago, wants it every 7 days'],
    [{ lastFedOn: '2026-11-24', feedEveryDays: 1 }, '2026-11-25', 'food: fed yesterday, wants it every day'],
    [
      { lastFedOn: '2026-11-16', left: { onDay: '2026-11-22', amount: 'plenty' } },
      '2026-11-26',
      'food: fed 9 days ago, plenty was left 3 days ago',
    ],
    [
      { lastFedOn: '2026-11-22', left: { onDay: '2026-11-24', amount: 'none' } },
      '2026-11-24',
      'food: nothing was left yesterday',
    ],
    // What was left before the last meal says nothing about that meal.
    [
      { lastFedOn: '2026-11-22', left: { onDay: '2026-11-22', amount: 'none' } },
      '2026-11-29',
      'food: fed 3 days ago, wants it every 7 days',
    ],
  ] as [Partial<CareFacts>, string, string][])(
    'food by the rhythm and by what was left: %o',
    (changed, dueOn, reason) => {
      expect(due(changed, 'feed')).toMatchObject({ dueOn, reason });
    },
  );

  it('takes fresh food out before it moulds', () => {
    expect(due({ fruitSince: '2026-11-22' }, 'fruit')).toMatchObject({
      dueOn: addDays('2026-11-22', fruitDays),
      overdueDays: 0,
      reason: 'fruit: put in 3 days ago, take it out before it moulds',
    });
  });

  it('waters what was found dry, until it was watered, and else when it is expected to be dry', () => {
    const surface = { onDay: '2026-11-23', is: 'dry' } as const;
    const dries = {
      sum: { since: 'wet', from: '2026-11-16', days: 10 } as const,
      reason: 'water: light base on Monday, dry air since',
    };
    expect(due({ surface, lastWateredOn: '2026-11-20' }, 'water')).toMatchObject({
      dueOn: '2026-11-23',
      reason: 'water: the surface was dry 2 days ago',
    });
    expect(due({ surface, lastWateredOn: '2026-11-23' }, 'water')).toBeUndefined();
    expect(due({ surface, lastWateredOn: '2026-11-23', dries }, 'water')).toMatchObject({
      dueOn: '2026-11-26',
      ...dries,
    });
    expect(due({ surface: { onDay: '2026-11-23', is: 'moist' } }, 'water')).toBeUndefined();
  });
});

describe('a count', () => {
  const number = { lower: 40, upper: 120, reserve: 50, promised: 0, groupSize: 14 };
  const asked = (changed: Partial<typeof number>, lastCountOn: string | null = '2026-10-01') =>
    countDue({ ...number, ...changed, lastCountOn, foundedOn: '2026-01-01' }, today);

  it('is due four weeks after the last where groups hang on it', () => {
    expect(asked({})).toEqual({
      dueOn: '2026-10-29',
      overdueDays: 27,
      reason: 'count: not counted for 8 weeks, it may spare none or up to 5 groups',
      sum: { since: 'counted', from: '2026-10-01', days: 28 },
      hanging: { ...number, groups: 5 },
    });
    expect(asked({}, '2026-11-20')).toMatchObject({ overdueDays: -23 });
    expect(asked({}, null)).toMatchObject({ dueOn: '2026-01-29' });
  });

  it('is not due where the answer is known, however wide the interval', () => {
    expect(asked({ lower: 70 })).toBeNull();
    expect(asked({ upper: 77 })).toBeNull();
    expect(asked({ promised: 60 })).toBeNull();
  });

  it('never asks for one where one group is sure or two are out of reach', () => {
    const animals = fc.integer({ min: 0, max: 500 });
    fc.assert(
      fc.property(animals, animals, animals, animals, (a, b, reserve, promised) => {
        const [lower, upper] = [Math.min(a, b), Math.max(a, b)];
        const found = asked({ lower, upper, reserve, promised });
        const isWide = lower - reserve - promised < 14 && upper - reserve - promised >= 28;
        expect(found !== null).toBe(isWide);
      }),
      { numRuns: 200 },
    );
  });
});
