import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { applyEvent } from '../../../shared/counts/population/filter.ts';
import { type PopulationEvent, populationInput } from '../../../shared/counts/population/form.ts';
import {
  type PopulationSummary,
  stateAfter,
  summarise,
} from '../../../shared/counts/population/population.ts';
import type { PopulationState } from '../../../shared/counts/population/state.ts';
import { addDays } from '../../../shared/days.ts';

const FOUNDED = '2025-01-06';
const detection = { alpha: 6, beta: 14 };
const level = 0.9;

/** A culture of some weeks that was looked at a few times, and the day of its last event. */
const culture = fc
  .record({
    animals: fc.integer({ min: 8, max: 60 }),
    startSd: fc.constantFrom(0, 0.1, 0.4),
    growth: fc.double({ min: 0.03, max: 0.4, noNaN: true }),
    sdLog: fc.constantFrom(0, 0.2, 0.6),
    capacity: fc.integer({ min: 60, max: 400 }),
    processSd: fc.constantFrom(0.02, 0.08, 0.2),
    looks: fc.array(
      fc.record({ days: fc.integer({ min: 1, max: 40 }), seen: fc.integer({ min: 2, max: 12 }) }),
      {
        maxLength: 4,
      },
    ),
  })
  .map((given) => {
    let day = FOUNDED;
    const events: PopulationEvent[] = given.looks.map(({ days, seen }) => {
      day = addDays(day, days);
      return { date: day, kind: 'count', method: 'visible', counted: seen, detection, level };
    });
    const { start, profile } = populationInput.parse({
      start: { date: FOUNDED, animals: given.animals, sdLog: given.startSd },
      profile: {
        growthPerWeek: { median: given.growth, sdLog: given.sdLog },
        capacity: { median: given.capacity, sdLog: given.sdLog },
        processSd: given.processSd,
      },
      asOf: FOUNDED,
    });
    return { state: stateAfter({ start, profile, events }), day };
  });

const RUNS = { numRuns: 25, seed: 20260105 };
const ask = (state: PopulationState, asOf: string): PopulationSummary =>
  summarise(state, { asOf, horizonWeeks: 2, level, atLeast: [1, 10, 100] });
const full = (date: string, counted: number): PopulationEvent => ({
  date,
  kind: 'count',
  method: 'full',
  counted,
  relativeSd: 0.1,
  level,
});

describe('whatever the culture', () => {
  test('medians lie inside their intervals, probabilities between 0 and 1 and falling', () => {
    fc.assert(
      fc.property(culture, fc.integer({ min: 0, max: 60 }), ({ state, day }, later) => {
        const answer = ask(state, addDays(day, later));
        const bands = [
          answer.now,
          answer.growthPerWeek,
          answer.capacity,
          answer.fullness,
          ...answer.forecast,
        ];
        for (const { lower, median, upper } of bands) {
          expect(lower).toBeLessThanOrEqual(median);
          expect(median).toBeLessThanOrEqual(upper);
          expect(Number.isFinite(lower + median + upper)).toBe(true);
        }
        const chances = answer.atLeast.map(({ probability }) => probability);
        expect(chances[0]).toBeLessThanOrEqual(1 - answer.extinct + 1e-9);
        expect(chances).toEqual(chances.toSorted((a, b) => b - a));
        expect(Math.min(...chances, answer.extinct)).toBeGreaterThanOrEqual(0);
        expect(Math.max(...chances, answer.extinct)).toBeLessThanOrEqual(1);
      }),
      RUNS,
    );
  });

  test('animals added raise the number by themselves', () => {
    fc.assert(
      fc.property(culture, fc.integer({ min: 1, max: 80 }), ({ state, day }, animals) => {
        const before = ask(state, day).now;
        const after = ask(applyEvent(state, { date: day, kind: 'added', animals }), day).now;
        // A hundredth of the interval for what the grid cannot tell.
        const tolerance = 0.01 * (before.upper - before.lower) + 0.001 * before.upper;
        expect(Math.abs(after.median - before.median - animals)).toBeLessThan(tolerance);
        expect(after.lower).toBeGreaterThan(animals - 0.01 * animals);
      }),
      RUNS,
    );
  });

  test('animals removed lower the number by themselves while none is lost to extinction', () => {
    fc.assert(
      fc.property(culture, ({ state, day }) => {
        const before = ask(state, day).now;
        const animals = Math.floor(before.lower / 3);
        const after = ask(applyEvent(state, { date: day, kind: 'removed', animals }), day);
        const tolerance = 0.01 * (before.upper - before.lower) + 0.001 * before.upper;
        expect(Math.abs(after.now.median - before.median + animals)).toBeLessThan(tolerance);
        expect(after.extinct).toBeLessThan(0.02);
      }),
      RUNS,
    );
  });

  test('taking out what was just put in changes nothing', () => {
    fc.assert(
      fc.property(culture, fc.integer({ min: 1, max: 50 }), ({ state, day }, animals) => {
        const before = ask(state, day).now;
        const added = applyEvent(state, { date: day, kind: 'added', animals });
        const after = ask(applyEvent(added, { date: day, kind: 'removed', animals }), day).now;
        const tolerance = 0.02 * (before.upper - before.lower) + 0.001 * before.upper;
        for (const end of ['lower', 'median', 'upper'] as const) {
          expect(Math.abs(after[end] - before[end])).toBeLessThan(tolerance);
        }
      }),
      RUNS,
    );
  });

  test('the more is counted, the more there are; and a count narrows the doubt', () => {
    fc.assert(
      fc.property(culture, ({ state, day }) => {
        const before = ask(state, day).now;
        if (before.upper / before.lower < 1.1) return;
        const guess = Math.max(2, Math.round(before.median));
        const [less, as, more] = [0.8, 1, 1.25].map((by) => {
          return ask(applyEvent(state, full(day, Math.max(1, Math.round(by * guess)))), day).now;
        });
        expect(less!.median).toBeLessThan(as!.median);
        expect(as!.median).toBeLessThan(more!.median);
        expect(Math.log(as!.upper / as!.lower)).toBeLessThan(Math.log(before.upper / before.lower));
      }),
      RUNS,
    );
  });

  test('a longer wait without a look never narrows the doubt about r and K, and leaves it as it was', () => {
    fc.assert(
      fc.property(culture, fc.integer({ min: 1, max: 200 }), ({ state, day }, later) => {
        const before = ask(state, day);
        const after = ask(state, addDays(day, later));
        expect(after.growthPerWeek).toEqual(before.growthPerWeek);
        expect(after.capacity).toEqual(before.capacity);
      }),
      RUNS,
    );
  });
});
