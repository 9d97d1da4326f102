import { describe, expect, test } from 'vitest';
import { applyEvent, startState } from '../../shared/counts/population/filter.ts';
import { type PopulationInput, populationInput } from '../../shared/counts/population/form.ts';
import { numberOn } from '../../shared/counts/population/outlook.ts';
import { population } from '../../shared/counts/population/population.ts';
import { addDays } from '../../shared/days.ts';
import { surplusInput } from '../../shared/surplus/form.ts';
import { surplus } from '../../shared/surplus/surplus.ts';
import { expectedOf, expectRow, row, titleOf } from './rows.ts';

const START = '2001-01-01';

/** A colony with every constant known, after so many days. */
function known(animals: number, growthPerWeek: number, capacity: number, days: number): number {
  return population(populationInput.parse(knownInput(animals, growthPerWeek, capacity, days))).now.median;
}

function knownInput(animals: number, growth: number, capacity: number, days: number): PopulationInput {
  return {
    start: { date: START, animals, sdLog: 0 },
    profile: {
      growthPerWeek: { median: growth, sdLog: 0 },
      capacity: { median: capacity, sdLog: 0 },
      processSd: 0,
    },
    asOf: addDays(START, days),
    horizonWeeks: 0,
  };
}

interface Series {
  t: number[];
  n: number[];
}

/** How a published series is told to the filter, with priors that say next to nothing (a factor of 5 either way). */
interface Telling {
  daysPerUnit: number;
  /** Counts are whole numbers here; a series with one decimal is told in tenths. */
  scale: number;
  relativeSd: number;
  processSd: number;
  growthPerWeek: number;
  capacity: number;
}

function told(id: string, telling: Telling) {
  const { t, n } = row(id).inputs as unknown as Series;
  const { daysPerUnit, scale, relativeSd, processSd } = telling;
  return populationInput.parse({
    start: { date: START, animals: n[0]! * scale, sdLog: 0.3 },
    profile: {
      growthPerWeek: { median: telling.growthPerWeek, sdLog: 1 },
      capacity: { median: telling.capacity * scale, sdLog: 1 },
      processSd,
    },
    // The first number is the start itself; it is not counted twice.
    events: t.slice(1).map((at, i) => ({
      date: addDays(START, at * daysPerUnit),
      kind: 'count',
      method: 'full',
      counted: Math.round(n[i + 1]! * scale),
      relativeSd,
    })),
    asOf: addDays(START, t.at(-1)! * daysPerUnit),
  });
}

/** How many counts fell inside the 90 % interval foretold from the counts before: N's doubt and the count's own. */
function foretold(question: ReturnType<typeof told>, relativeSd: number): { held: number; counts: number } {
  let state = startState(question.start, question.profile);
  let held = 0;
  for (const event of question.events) {
    if (event.kind !== 'count' || event.method !== 'full') continue;
    const { lower, median, upper } = numberOn(state, event.date, 0.9);
    const side = event.counted > median ? Math.log(upper / median) : Math.log(median / lower);
    const reach = Math.hypot(side, 1.6448536 * relativeSd);
    if (Math.abs(Math.log(event.counted / median)) <= reach) held += 1;
    state = applyEvent(state, event);
  }
  return { held, counts: question.events.length };
}

/** The fewest successes that chance would undercut less than once in a hundred, at 90 % each. */
function fewest(counts: number): number {
  let mass = 0.1 ** counts;
  let below = 0;
  for (let k = 0; k <= counts; k += 1) {
    if (below + mass >= 0.01) return k;
    below += mass;
    mass *= ((counts - k) / (k + 1)) * 9;
  }
  return counts;
}

const tellings: Record<string, Telling> = {
  // Days as they are. The counts lie a tenth off the reference curve (root mean square of the logs: see below).
  'd03-gause-app-t3-aurelia': {
    daysPerUnit: 1,
    scale: 1,
    relativeSd: 0.1,
    processSd: 0.1,
    growthPerWeek: 3,
    capacity: 300,
  },
  // Hours, told as weeks: r per week here is r per hour there. The amounts lie a twentieth off the reference curve.
  'd04-carlson-yeast': {
    daysPerUnit: 7,
    scale: 10,
    relativeSd: 0.05,
    processSd: 0.05,
    growthPerWeek: 0.3,
    capacity: 300,
  },
};

describe('published growth series, with weak priors', () => {
  for (const [id, telling] of Object.entries(tellings)) {
    const question = told(id, telling);
    test(`${titleOf(id)}: the reference r and K lie inside our intervals`, () => {
      const { growthPerWeek, capacity } = population(question);
      const r = (expectedOf(id, 'r') * 7) / telling.daysPerUnit;
      const k = expectedOf(id, 'K') * telling.scale;
      expect(growthPerWeek.lower).toBeLessThan(r);
      expect(growthPerWeek.upper).toBeGreaterThan(r);
      expect(capacity.lower).toBeLessThan(k);
      expect(capacity.upper).toBeGreaterThan(k);
      // Narrow enough to mean something: the series leaves far less than the priors' factor of 5.
      expect(growthPerWeek.upper / growthPerWeek.lower).toBeLessThan(1.25);
      expect(capacity.upper / capacity.lower).toBeLessThan(1.25);
    });

    test(`${id}: the noise it is told with is that about the reference curve`, () => {
      const { t, n } = row(id).inputs as unknown as Series;
      const [k, r, start] = [expectedOf(id, 'K'), expectedOf(id, 'r'), expectedOf(id, 'N0')];
      const squares = t.map(
        (at, i) => Math.log((n[i]! * (1 + (k / start - 1) * Math.exp(-r * at))) / k) ** 2,
      );
      const rms = Math.sqrt(squares.reduce((sum, square) => sum + square, 0) / squares.length);
      expect(telling.relativeSd / rms).toBeGreaterThan(0.75);
      expect(telling.relativeSd / rms).toBeLessThan(1.33);
    });

    test(`${id}: each count lies in the 90 % interval foretold from those before, as often as it should`, () => {
      const { held, counts } = foretold(question, telling.relativeSd);
      expect(counts).toBe((row(id).inputs as unknown as Series).n.length - 1);
      expect(held).toBeGreaterThanOrEqual(fewest(counts));
    });
  }

  test('the fewest that may hold: of 18 at 90 %, 13 or fewer come by chance in 2.8 %, 12 in 0.6 %', () => {
    expect(fewest(18)).toBe(13);
    expect(fewest(24)).toBe(18);
  });
});

describe('logistic growth in closed form', () => {
  const pearl = 'd05-pearl-yeast-curve';
  test(titleOf(pearl), () => {
    const { K, a, b, t } = row(pearl).inputs as { K: number; a: number; b: number; t: number[] };
    for (const [i, at] of t.entries()) expectRow(pearl, known(K / (1 + Math.exp(a)), b, K, 7 * at), i);
  });

  const closed = 'd06-closed-form';
  test(titleOf(closed), () => {
    const { K, r, N0, t } = row(closed).inputs as { K: number; r: number; N0: number; t: number[] };
    for (const [i, at] of t.entries()) expectRow(closed, known(N0, r, K, 7 * at), i);
  });

  const level = 'd07-time-to-level';
  test(titleOf(level), () => {
    const { K, r, N0, targets } = row(level).inputs as {
      K: number;
      r: number;
      N0: number;
      targets: number[];
    };
    const logit = (n: number) => Math.log(n / (K - n));
    targets.forEach((target, i) => {
      // The log-odds of N / K rise in a straight line: read off between the whole weeks around it.
      const week = Math.floor(expectedOf(level, i));
      const [before, after] = [week, week + 1].map((w) => known(N0, r, K, 7 * w)) as [number, number];
      expect(before).toBeLessThan(target);
      expect(after).toBeGreaterThan(target);
      const share = (logit(target) - logit(before)) / (logit(after) - logit(before));
      expectRow(level, week + share, i);
    });
  });

  const doubling = 'd19-doubling-time';
  test(titleOf(doubling), () => {
    (row(doubling).inputs.r as number[]).forEach((perDay, i) => {
      const day = Math.floor(expectedOf(doubling, i));
      const [before, after] = [day, day + 1].map((d) => known(10, 7 * perDay, 1e7, d)) as [number, number];
      expectRow(doubling, day + Math.log(20 / before) / Math.log(after / before), i);
    });
  });
});

describe('steady harvest', () => {
  for (const id of ['e01-basic', 'e02-fin-whale']) {
    test(titleOf(id), () => {
      const { r, K } = row(id).inputs as { r: number; K: number };
      const answer = surplus(
        surplusInput.parse({
          ...knownInput(K / 2, r, K, 0),
          reserve: { animals: 0, shareOfCapacity: 0.5 },
          promised: 0,
          confidence: 0.9,
          group: { adults: 1, juveniles: 0 },
          adultShare: { alpha: 1, beta: 1 },
        }),
      );
      expectRow(id, answer.sustainablePerWeek.median, 'MSY');
      // The reserve of half the capacity is where that harvest can be taken.
      expectRow(id, answer.reserve, 'N');
    });
  }

  const quota = 'e04-constant-quota-equilibria';
  test(titleOf(quota), () => {
    const { r, K, H } = row(quota).inputs as { r: number; K: number; H: number };
    // One unit of time told as a hundred weeks, so that the harvest is one animal at a time, every five weeks.
    const harvested = (animals: number, units: number) => {
      const end = 700 * units;
      const events = Array.from({ length: H * units }, (_, i) => {
        return { date: addDays(START, (700 / H) * (i + 1)), kind: 'removed' as const, animals: 1 };
      });
      return population(populationInput.parse({ ...knownInput(animals, r / 100, K, end), events })).now
        .median;
    };
    expectRow(quota, harvested(expectedOf(quota, 'stable'), 4), 'stable');
    expectRow(quota, harvested(expectedOf(quota, 'unstable'), 1), 'unstable');
    expect(harvested(expectedOf(quota, 'unstable') + 30, 4)).toBeGreaterThan(
      expectedOf(quota, 'unstable') + 33,
    );
    expect(harvested(expectedOf(quota, 'unstable') - 30, 4)).toBeLessThan(expectedOf(quota, 'unstable') - 33);
  });

  const produced = 'e07-surplus-from-level';
  test(titleOf(produced), () => {
    const { r, K, N } = row(produced).inputs as { r: number; K: number; N: number[] };
    // One unit of time told as twenty weeks: what a single day adds, times the 140 days, is nearly the slope.
    for (const [i, n] of N.entries()) {
      expectRow(produced, (known(n, r / 20, K, 1) - known(n, r / 20, K, 0)) * 140, i);
    }
  });
});
