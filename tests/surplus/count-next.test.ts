import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { calculations } from '../../shared/calculations.ts';
import { outcomesOf, standsFor } from '../../shared/counts/outcomes.ts';
import { applyEvent } from '../../shared/counts/population/filter.ts';
import type { PopulationEvent } from '../../shared/counts/population/form.ts';
import { quantile } from '../../shared/counts/population/mixture.ts';
import { nodesOnDay, outlookFrom } from '../../shared/counts/population/outlook.ts';
import { stateAfter } from '../../shared/counts/population/population.ts';
import { encodeState } from '../../shared/counts/population/store.ts';
import { capacityGiven } from '../../shared/counts/population/suppose.ts';
import { countNext, rankCounts } from '../../shared/surplus/count-next.ts';
import { type CountNextInput, countNextInput } from '../../shared/surplus/form.ts';
import { surplus, surplusFrom } from '../../shared/surplus/surplus.ts';
import { simulatedGroups } from './counted-colonies.ts';

type Culture = NonNullable<CountNextInput['cultures']>[number];

const settings = {
  minutes: 5,
  reserve: { animals: 6, shareOfCapacity: 0.5 },
  promised: 0,
  confidence: 0.9,
  group: { adults: 2, juveniles: 1 },
  adultShare: { alpha: 12, beta: 8 },
};
/** A small colony, so that few different counts can come out. */
const small: Culture = {
  ...settings,
  code: 'small',
  start: { date: '2026-01-05', animals: 15, sdLog: 0.3 },
  profile: {
    growthPerWeek: { median: 0.08, sdLog: 0.5 },
    capacity: { median: 30, sdLog: 0.3 },
    processSd: 0.06,
  },
  events: [{ date: '2026-02-10', kind: 'removed', animals: 3 }],
  asOf: '2026-04-05',
};
const roughCount: PopulationEvent = {
  date: '2026-02-24',
  kind: 'count',
  method: 'full',
  counted: 24,
  relativeSd: 0.3,
  level: 0.9,
};
const counted: Culture = { ...small, code: 'counted', events: [...small.events!, roughCount] };
const known: Culture = {
  ...small,
  code: 'known',
  start: { date: '2026-01-05', animals: 40, sdLog: 0 },
  profile: { growthPerWeek: { median: 0.1, sdLog: 0 }, capacity: { median: 30, sdLog: 0 }, processSd: 0 },
};
const large: Culture = {
  ...small,
  code: 'large',
  start: { date: '2026-01-05', animals: 3_000, sdLog: 0.5 },
  profile: {
    growthPerWeek: { median: 0.2, sdLog: 0.5 },
    capacity: { median: 9_000, sdLog: 0.5 },
    processSd: 0.15,
  },
  group: { adults: 100, juveniles: 200 },
};

const full = { method: 'full', relativeSd: 0.05 } as const;
const visible = { method: 'visible', detection: { alpha: 6, beta: 14 } } as const;
const sample = { method: 'sample', fraction: 0.2, clumping: 4 } as const;

const ask = (cultures: Culture[], method?: CountNextInput['method']) =>
  countNextInput.parse({ cultures, ...(method && { method }) });
const only = (culture: Culture, method?: CountNextInput['method']) =>
  countNext(ask([culture], method)).ranked[0]!;

describe('count-next', () => {
  test('the worked example', () => {
    const culture = {
      ...{ code: 'A', minutes: 5, asOf: '2026-01-05' },
      start: { date: '2026-01-05', animals: 60, sdLog: 0.6 },
      profile: { growthPerWeek: { median: 0.1, sdLog: 0 }, capacity: { median: 80, sdLog: 0 }, processSd: 0 },
      ...{ reserve: { animals: 30, shareOfCapacity: 0 }, promised: 0, confidence: 0.9 },
      ...{ group: { adults: 0, juveniles: 10 }, adultShare: { alpha: 1, beta: 1 } },
    };
    const { groupsNow, expectedGroups, gain, gainPerMinute } = only(culture);
    expect(groupsNow).toBe(0);
    expect(expectedGroups).toBeCloseTo(3.4, 1);
    expect(gain).toBe(expectedGroups);
    expect(gainPerMinute).toBeCloseTo(gain / 5, 12);
  });

  test.each([
    ['a full count of a culture never counted', small, full],
    ['a look at what shows', small, visible],
    ['a full count after a rough one', counted, { method: 'full', relativeSd: 0.02 }],
    ['a sample after a rough count', counted, sample],
  ] as const)('agrees with simulated colonies: %s', (_name, culture, method) => {
    const question = ask([culture], method);
    const { mean, error } = simulatedGroups(question.cultures[0]!, question.method, 12_000, 4);
    const { expectedGroups } = only(culture, method);
    expect(error).toBeLessThan(0.04);
    // Four standard errors of the simulation, and what the calculation says of its own error.
    expect(Math.abs(expectedGroups - mean)).toBeLessThan(4 * error + 0.02);
  });

  test.each([
    ['full', large, full],
    ['very exact', large, { method: 'full', relativeSd: 0.004 }],
    ['visible', large, visible],
    ['sample', large, sample],
    ['sample of a few', counted, sample],
    ['full, of a few', counted, full],
  ] as const)('supposing a count leaves what counting leaves: %s', (_name, culture, method) => {
    const question = ask([culture], method);
    const { asOf } = culture;
    const state = stateAfter(question.cultures[0]!);
    const { listed, stepFor } = outcomesOf(outlookFrom(state, asOf, 0).now, question.method, asOf);
    const most = Math.max(...listed.map(({ chance }) => chance));
    // Counts so rare that they hardly weigh may differ by more.
    const likely = listed.filter(({ chance }) => chance > 0.02 * most);
    for (const i of [0, 0.2, 0.5, 0.8, 1]) {
      const { counted, number } = likely[Math.round(i * (likely.length - 1))]!;
      const event = { ...question.method, kind: 'count' as const, date: asOf, counted, level: 0.9 };
      const after = applyEvent(state, event);
      const { surplus } = surplusFrom(after, { ...question.cultures[0]!, horizonWeeks: 0 });
      const real = (p: number) => quantile(outlookFrom(after, asOf, 0).now, p);
      const width = Math.log(real(0.95) / real(0.05));
      for (const p of [0.05, 0.1, 0.5, 0.9]) {
        expect(Math.abs(Math.log(quantile(number, p) / real(p)))).toBeLessThan(0.01 * width + 0.001);
      }
      const reserve = 0.5 * capacityGiven(state, nodesOnDay(state, asOf), stepFor(counted));
      expect(Math.abs(Math.log(Math.max(reserve, 6) / surplus.reserve))).toBeLessThan(0.02);
    }
  });

  test.each([
    ['full', small, full],
    ['full, rough', large, { method: 'full', relativeSd: 0.5 }],
    ['visible', large, visible],
    ['sample', counted, sample],
    [
      'a handful that may be extinct',
      { ...small, start: { date: '2026-01-05', animals: 2, sdLog: 1 } },
      full,
    ],
  ] as const)('what may come out adds up to what is thought now: %s', (_name, culture, method) => {
    const question = ask([culture], method);
    const { now } = outlookFrom(stateAfter(question.cultures[0]!), culture.asOf, 0);
    const { listed } = outcomesOf(now, question.method, culture.asOf);
    const numbers = listed.map(({ counted }) => counted);
    let [chance, mean, extinct] = [0, 0, 0];
    listed.forEach((outcome, i) => {
      const share = outcome.chance * standsFor(numbers, i);
      chance += share;
      mean += share * outcome.number.mean;
      extinct += share * outcome.number.nil;
    });
    expect(chance).toBeCloseTo(1, 9);
    expect(Math.abs(mean / now.mean - 1)).toBeLessThan(0.01);
    expect(Math.abs(extinct - now.nil)).toBeLessThan(0.002);
  });

  test('what is known already gains nothing, nor what is far too small', () => {
    expect(Math.abs(only(known).gain)).toBeLessThan(0.01);
    expect(only({ ...small, reserve: { animals: 500, shareOfCapacity: 0.5 } }).gain).toBe(0);
    const extinct = { ...small, start: { date: '2026-01-05', animals: 0.1, sdLog: 0 } };
    expect(only(extinct)).toMatchObject({ groupsNow: 0, expectedGroups: 0, gain: 0 });
  });

  test('groups now are those of the surplus', () => {
    for (const culture of [small, counted, known, large]) {
      const question = ask([culture]).cultures[0]!;
      expect(only(culture).groupsNow).toBe(surplus(question).spareGroups);
    }
  });

  test('a gain can be below nothing, and is not cut off', () => {
    const sold = { ...small, reserve: { animals: 6, shareOfCapacity: 0 }, confidence: 0.1 };
    expect(only(sold).gain).toBeLessThan(-1);
  });

  test('whatever is known and planned, the answer is a number of groups', () => {
    const sd = fc.constantFrom(0, 1e-4, 0.3, 1.5, 4);
    const positive = fc.record({ median: fc.constantFrom(0.6, 8, 300, 2e6), sdLog: sd });
    const culture = fc.record({
      start: fc.record({
        date: fc.constant('2026-01-05'),
        animals: fc.constantFrom(0.2, 1, 40, 1e6),
        sdLog: sd,
      }),
      profile: fc.record({
        growthPerWeek: fc.record({ median: fc.constantFrom(1e-4, 0.1, 5), sdLog: sd }),
        capacity: positive,
        processSd: fc.constantFrom(0, 0.05, 1),
      }),
    });
    const share = fc.constantFrom(0.01, 1, 40, 1e6);
    const method = fc.oneof(
      fc.record({ method: fc.constant('full' as const), relativeSd: fc.constantFrom(1e-6, 0.05, 3) }),
      fc.record({
        method: fc.constant('visible' as const),
        detection: fc.record({ alpha: share, beta: share }),
      }),
      fc.record({
        method: fc.constant('sample' as const),
        fraction: fc.constantFrom(1e-3, 0.2, 1),
        clumping: share,
      }),
    );
    fc.assert(
      fc.property(culture, method, (given, planned) => {
        const { groupsNow, expectedGroups } = only({ ...small, ...given }, planned);
        expect(Number.isFinite(expectedGroups) && expectedGroups >= 0 && groupsNow >= 0).toBe(true);
      }),
      { numRuns: 20, seed: 7 },
    );
  });

  test('ranked by the gain per minute, then the gain, then the code', () => {
    const quick = { ...small, code: 'quick', minutes: 2 };
    const [b, a] = [
      { ...known, code: 'b' },
      { ...known, code: 'a' },
    ];
    const { ranked } = countNext(ask([b, small, quick, a]));
    expect(ranked.map(({ code }) => code).slice(0, 2)).toEqual(['quick', 'small']);
    expect(ranked[0]!.gain).toBe(ranked[1]!.gain);
    expect(ranked[0]!.gainPerMinute).toBeCloseTo(ranked[0]!.gain / 2, 12);
    expect(ranked.map(({ code }) => code).slice(2)).toEqual(['a', 'b']);
    for (const one of ranked) {
      const keys = ['code', 'groupsNow', 'expectedGroups', 'gain', 'gainPerMinute', 'minutes'];
      expect(Object.keys(one)).toEqual(keys);
    }
  });

  test('stored states give the same, each with a count of its own', () => {
    const candidates = [small, counted].map((culture, i) => {
      const question = ask([culture]).cultures[0]!;
      const { code, asOf, minutes } = question;
      const state = encodeState(stateAfter(question));
      return { code, state, settings: question, asOf, minutes, planned: i === 0 ? full : visible };
    });
    const expected = [only(small), only(counted, visible)];
    expect(rankCounts(candidates).sort((a, b) => (a.code < b.code ? 1 : -1))).toEqual(expected);
  });

  test('what may be left out, and what is refused', async () => {
    expect(ask([small]).method).toEqual(full);
    expect(ask([small], { method: 'sample', fraction: 0.2 }).method).toEqual(sample);
    const faults = async (input: object) => {
      const outcome = await calculations['count-next']!.run(input);
      return outcome.ok ? [] : outcome.faults.map(({ path, message }) => `${path}: ${message}`);
    };
    expect(await faults({})).toEqual(['cultures: is missing']);
    expect(await faults({ cultures: [small, small] })).toEqual(['cultures[1].code: is there twice']);
    expect(await faults({ cultures: [{ ...small, minutes: 0 }], method: { ...full, counted: 3 } })).toEqual([
      'cultures[0].minutes: must be more than 0',
      'method.counted: is not known here',
    ]);
    const late = { ...small, asOf: '2026-01-06' };
    expect(await faults({ cultures: [late] })).toEqual([
      'cultures[0].events[0].date: is after asOf, 2026-01-06',
    ]);
    const impossible = { ...known, events: [{ ...roughCount, counted: 900, relativeSd: 0.01 }] };
    expect(await faults({ cultures: [small, impossible] })).toEqual([
      expect.stringMatching(/^cultures\[1\]\.events\[0\]\.counted: contradicts/),
    ]);
  });
});
