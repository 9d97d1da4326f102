import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { calculations } from '../../shared/calculations.ts';
import { chanceOfAtLeast } from '../../shared/counts/population/mixture.ts';
import { outlookFrom } from '../../shared/counts/population/outlook.ts';
import { stateAfter } from '../../shared/counts/population/population.ts';
import { addDays } from '../../shared/days.ts';
import { betaCdf } from '../../shared/numbers/beta.ts';
import { chanceOfAdults, sharesOf } from '../../shared/surplus/adults.ts';
import { type SurplusInput, surplusInput } from '../../shared/surplus/form.ts';
import { chanceAboveReserve, surplus, surplusFrom } from '../../shared/surplus/surplus.ts';

const DAY = '2026-01-05';
/** A hundred animals at capacity, all of it known: the worked example of `surplus`. */
const known: SurplusInput = {
  start: { date: DAY, animals: 100, sdLog: 0 },
  profile: {
    growthPerWeek: { median: 0.1, sdLog: 0 },
    capacity: { median: 100, sdLog: 0 },
    processSd: 0,
  },
  asOf: DAY,
  reserve: { animals: 24, shareOfCapacity: 0.5 },
  promised: 10,
  confidence: 0.9,
  group: { adults: 10, juveniles: 2 },
  adultShare: { alpha: 60, beta: 40 },
};
/** The same colony, known as a breeder knows it. */
const doubted: SurplusInput = {
  ...known,
  start: { date: DAY, animals: 130, sdLog: 0.2 },
  profile: {
    growthPerWeek: { median: 0.15, sdLog: 0.4 },
    capacity: { median: 150, sdLog: 0.3 },
    processSd: 0.08,
  },
  promised: 0,
  adultShare: { alpha: 30, beta: 10 },
};
const ask = (change: Partial<SurplusInput>, from = known) =>
  surplus(surplusInput.parse({ ...from, ...change }));

describe('with everything known', () => {
  test('the worked example: 100 animals, 50 must stay, 10 are promised', () => {
    const answer = ask({});
    expect(answer.reserve).toBeCloseTo(50, 9);
    expect(answer.spareAnimals).toBe(40);
    expect(answer.spareGroups).toBe(3);
    expect(answer.sustainablePerWeek.median).toBeCloseTo((0.1 * 100) / 4, 9);
    expect(Object.keys(answer)).toEqual([
      'spareAnimals',
      'spareGroups',
      'reserve',
      'sustainablePerWeek',
      'readyOn',
      'limitedBy',
    ]);
  });

  test('the reserve is the larger of the two', () => {
    expect(ask({ reserve: { animals: 60, shareOfCapacity: 0.5 } }).reserve).toBe(60);
    expect(ask({ reserve: { animals: 60, shareOfCapacity: 0.5 } }).spareAnimals).toBe(30);
    expect(ask({ reserve: { animals: 0, shareOfCapacity: 0 } }).spareAnimals).toBe(90);
  });

  test('each promised animal is one less to spare', () => {
    for (const promised of [0, 1, 17, 49, 50, 51, 90]) {
      expect(ask({ promised }).spareAnimals).toBe(Math.max(0, 50 - promised));
    }
  });

  test('ready on the first week with one group more, by hand', () => {
    const small: Partial<SurplusInput> = {
      start: { date: DAY, animals: 60, sdLog: 0 },
      promised: 0,
      adultShare: { alpha: 1e6, beta: 1 },
    };
    const weeks = Array.from({ length: 9 }, (_, w) => {
      const rise = Math.exp(0.1 * w);
      return (100 * 60 * rise) / (100 + 60 * (rise - 1));
    });
    const groups = weeks.map((n) => Math.floor((n - 50) / 12));
    expect(groups[0]).toBe(0);
    const first = groups.findIndex((g) => g >= 1);
    expect(first).toBeGreaterThan(0);
    expect(ask(small).readyOn).toBe(addDays(DAY, 7 * first));
    expect(ask({ ...small, horizonWeeks: first - 1 }).readyOn).toBeNull();
  });
});

describe('what limits it', () => {
  test('adults, where there are too few of them for the groups the animals allow', () => {
    const few = ask({ promised: 0, adultShare: { alpha: 200, beta: 800 } });
    expect(few).toMatchObject({ spareAnimals: 50, spareGroups: 1, limitedBy: 'adults' });
  });
  test('promised, where without the promise one group more were spare', () => {
    expect(ask({ promised: 45 })).toMatchObject({ spareGroups: 0, limitedBy: 'promised' });
  });
  test('nothing, where a group is spare and no promise costs one', () => {
    expect(ask({ promised: 0 })).toMatchObject({ spareGroups: 4, limitedBy: null });
  });
  test('the reserve, where the animals are needed', () => {
    expect(ask({ promised: 0, start: { date: DAY, animals: 55, sdLog: 0 } })).toMatchObject({
      spareGroups: 0,
      limitedBy: 'reserve',
    });
  });
  test('an old count, where the median would leave a group and only the doubt forbids it', () => {
    const stale = ask({ promised: 0, start: { date: DAY, animals: 90, sdLog: 0.6 } });
    expect(stale).toMatchObject({ spareGroups: 0, limitedBy: 'count too old' });
    const fresh = ask({
      promised: 0,
      start: { date: DAY, animals: 90, sdLog: 0.6 },
      events: [{ date: DAY, kind: 'count', method: 'full', counted: 90 }],
    });
    expect(fresh.spareGroups).toBeGreaterThan(0);
  });
});

describe('with doubt', () => {
  const parsed = surplusInput.parse(doubted);
  const state = stateAfter(parsed);

  test('one animal more than is spare would break the confidence, the spare ones do not', () => {
    const { surplus: answer } = surplusFrom(state, parsed);
    expect(answer.spareAnimals).toBeGreaterThan(0);
    const { now } = outlookFrom(state, DAY, 0);
    expect(chanceOfAtLeast(now, answer.reserve + answer.spareAnimals)).toBeGreaterThanOrEqual(0.9 - 1e-3);
    expect(chanceOfAtLeast(now, answer.reserve + answer.spareAnimals + 1)).toBeLessThan(0.9);
  });

  test('what could be promised if nothing were', () => {
    const free = surplusFrom(state, parsed);
    expect(free.promisable).toBe(free.surplus.spareAnimals);
    const held = surplusFrom(state, { ...parsed, promised: 5 });
    expect(held.promisable).toBe(free.promisable);
    expect(held.surplus.spareAnimals).toBe(free.promisable - 5);
  });

  test('the population that comes along is that of `population`', () => {
    const { population } = surplusFrom(state, { ...parsed, atLeast: [60] });
    const input = { ...doubted, atLeast: [60] };
    const { reserve, promised, confidence, group, adultShare, ...question } = input;
    expect([reserve, promised, confidence, group, adultShare]).not.toContain(undefined);
    expect(calculations.population!.run(question)).toEqual({ ok: true, result: population });
  });

  test('what a removal of so many today would leave', () => {
    const { surplus: answer } = surplusFrom(state, parsed);
    const reserve = parsed.reserve;
    const some = chanceAboveReserve(state, { asOf: DAY, removed: answer.spareAnimals, reserve });
    expect(some.reserve).toBeCloseTo(answer.reserve, 9);
    expect(some.probability).toBeGreaterThanOrEqual(0.9 - 1e-3);
    const more = chanceAboveReserve(state, { asOf: DAY, removed: answer.spareAnimals + 5, reserve });
    expect(more.probability).toBeLessThan(some.probability);
    const promised = chanceAboveReserve(state, {
      asOf: DAY,
      removed: answer.spareAnimals,
      promised: 5,
      reserve,
    });
    expect(promised.probability).toBeCloseTo(more.probability, 12);
    const all = chanceAboveReserve(state, {
      asOf: DAY,
      removed: 0,
      reserve: { animals: 0, shareOfCapacity: 0 },
    });
    expect(all.probability).toBe(1);
  });

  test('more confidence, more promised or a larger reserve never spare more', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 0.95, noNaN: true }),
        fc.integer({ min: 0, max: 40 }),
        fc.integer({ min: 0, max: 80 }),
        (confidence, promised, animals) => {
          const settings = { ...parsed, horizonWeeks: 0, confidence, promised };
          const question = { ...settings, reserve: { animals, shareOfCapacity: 0 } };
          const { surplus: base } = surplusFrom(state, question);
          const stricter = [
            { ...question, confidence: confidence + 0.04 },
            { ...question, promised: promised + 3 },
            { ...question, reserve: { animals: animals + 3, shareOfCapacity: 0 } },
          ];
          for (const one of stricter) {
            const { surplus: less } = surplusFrom(state, one);
            expect(less.spareAnimals).toBeLessThanOrEqual(base.spareAnimals);
            expect(less.spareGroups).toBeLessThanOrEqual(base.spareGroups);
          }
        },
      ),
      { numRuns: 30, seed: 5 },
    );
  });
});

describe('adults', () => {
  test('of a number known exactly there are enough as the share says: the upper tail of its Beta', () => {
    const { now } = outlookFrom(stateAfter(surplusInput.parse(known)), DAY, 0);
    for (const [alpha, beta] of [
      [60, 40],
      [2, 3],
      [0.5, 0.5],
      [0.1, 4],
      [5000, 2500],
    ] as const) {
      const shares = sharesOf({ alpha, beta });
      for (const adults of [5, 30, 55, 62, 85]) {
        const exact = 1 - betaCdf(adults / 100, alpha, beta);
        // A number known exactly is a step, which a sum over 160 shares follows to a fortieth.
        expect(Math.abs(chanceOfAdults(now, shares, 0, adults) - exact)).toBeLessThan(0.025);
      }
    }
  });

  test('of a doubted number, against the double sum over share and number', () => {
    const { now } = outlookFrom(stateAfter(surplusInput.parse(doubted)), DAY, 0);
    const cells = 4000;
    let exact = 0;
    for (let i = 0; i < cells; i += 1) {
      const low = betaCdf(i / cells, 30, 10);
      const mass = betaCdf((i + 1) / cells, 30, 10) - low;
      exact += mass * chanceOfAtLeast(now, 7 + 50 / ((i + 0.5) / cells));
    }
    expect(chanceOfAdults(now, sharesOf({ alpha: 30, beta: 10 }), 7, 50)).toBeCloseTo(exact, 5);
  });
});

describe('faults', () => {
  test('what is missing, unknown or out of range', () => {
    const faults = (input: object) => {
      const outcome = calculations.surplus!.run(input);
      return outcome.ok ? [] : outcome.faults.map(({ path, message }) => `${path}: ${message}`);
    };
    const { confidence, ...without } = known;
    expect(confidence).toBe(0.9);
    expect(faults(without)).toEqual(['confidence: is missing']);
    expect(faults({ ...known, mood: 1 })).toEqual(['mood: is not known here']);
    expect(faults({ ...known, group: { adults: 0, juveniles: 0 } })).toEqual([
      'group: must hold at least one animal',
    ]);
    expect(faults({ ...known, promised: 1.5 })).toHaveLength(1);
    expect(faults({ ...known, asOf: '2025-01-01' })).toEqual(['asOf: is before the start, 2026-01-05']);
  });
});
