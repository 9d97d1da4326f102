import { describe, expect, test } from 'vitest';
import { applyEvent, startState } from '../../../shared/counts/population/filter.ts';
import { type PopulationEvent, populationInput } from '../../../shared/counts/population/form.ts';
import { follow, numberOn } from '../../../shared/counts/population/outlook.ts';
import { stateAfter, summarise } from '../../../shared/counts/population/population.ts';
import type { PopulationState } from '../../../shared/counts/population/state.ts';
import { decodeState, encodeState, UnreadableStateError } from '../../../shared/counts/population/store.ts';
import { CalculationError } from '../../../shared/faults.ts';

const detection = { alpha: 6, beta: 14 };
const seen = (date: string, counted: number) => ({
  date,
  kind: 'count',
  method: 'visible',
  counted,
  detection,
});
const year = populationInput.parse({
  start: { date: '2025-01-06', animals: 12, sdLog: 0.1 },
  profile: {
    growthPerWeek: { median: 0.15, sdLog: 0.5 },
    capacity: { median: 200, sdLog: 0.5 },
    processSd: 0.08,
  },
  events: [
    seen('2025-01-20', 4),
    seen('2025-02-10', 9),
    { date: '2025-02-10', kind: 'removed', animals: 2 },
    { date: '2025-03-03', kind: 'count', method: 'full', counted: 41 },
    seen('2025-03-17', 12),
    { date: '2025-04-01', kind: 'count', method: 'sample', counted: 11, fraction: 0.2 },
    { date: '2025-04-20', kind: 'added', animals: 6 },
    seen('2025-05-12', 31),
    { date: '2025-06-02', kind: 'die-off', survival: { median: 0.6, sdLog: 0.3 } },
    seen('2025-06-09', 18),
    { date: '2025-07-01', kind: 'count', method: 'removal', catches: [60, 30, 12], estimator: 'carle-strub' },
    { date: '2025-08-01', kind: 'removed', animals: 40 },
    seen('2025-09-01', 33),
    {
      date: '2025-10-06',
      kind: 'count',
      method: 'mark-recapture',
      marked: 40,
      caught: 45,
      recaptured: 12,
      estimator: 'chapman',
    },
    seen('2025-11-03', 52),
  ],
  asOf: '2025-12-01',
});

/** The states before and after each event. */
function states(): PopulationState[] {
  const all = [startState(year.start, year.profile)];
  for (const event of year.events) all.push(applyEvent(all.at(-1)!, event));
  return all;
}
const all = states();
const question = { asOf: year.asOf, horizonWeeks: 8, level: 0.9, atLeast: [60, 100] };

describe('one event after another', () => {
  test('going on from any stored state gives the same bits as a full rebuild', () => {
    const whole = encodeState(all.at(-1)!);
    const answer = summarise(all.at(-1)!, question);
    for (const [from, state] of all.entries()) {
      let again = decodeState(encodeState(state));
      for (const event of year.events.slice(from)) again = applyEvent(again, event);
      expect(encodeState(again), `from event ${from}`).toEqual(whole);
      expect(summarise(again, question)).toEqual(answer);
    }
  });

  test('a state comes back from its bytes as it was, also out of the middle of a larger buffer', () => {
    for (const state of all) {
      const bytes = encodeState(state);
      expect(decodeState(bytes)).toEqual(state);
      const larger = new Uint8Array(bytes.length + 7).fill(9);
      larger.set(bytes, 3);
      expect(decodeState(larger.subarray(3, 3 + bytes.length))).toEqual(state);
    }
  });

  test('a state is small', () => {
    for (const state of all) expect(encodeState(state).length).toBeLessThan(20_000);
  });

  test('applying an event changes nothing in the state given', () => {
    for (const [i, event] of year.events.entries()) {
      const before = encodeState(all[i]!);
      applyEvent(all[i]!, event);
      expect(encodeState(all[i]!)).toEqual(before);
    }
  });

  test('asking changes nothing either', () => {
    const before = encodeState(all.at(-1)!);
    summarise(all.at(-1)!, question);
    numberOn(all.at(-1)!, '2026-03-01', 0.9);
    expect(encodeState(all.at(-1)!)).toEqual(before);
  });

  test('following an event tells the number before and after it, and gives the same state', () => {
    for (const [i, event] of year.events.entries()) {
      const { state, before, after } = follow(all[i]!, event, 0.9);
      expect(encodeState(state)).toEqual(encodeState(all[i + 1]!));
      expect(before).toEqual(numberOn(all[i]!, event.date, 0.9));
      expect(after).toEqual(numberOn(all[i + 1]!, event.date, 0.9));
    }
  });

  test('the same history gives the same state, whatever was worked out in between', () => {
    const first = encodeState(stateAfter(year));
    stateAfter({ ...year, start: { ...year.start, animals: 40 } });
    expect(encodeState(stateAfter(year))).toEqual(first);
  });
});

describe('bytes that are no state', () => {
  const bytes = encodeState(all.at(-1)!);
  test('of another version', () => {
    const other = bytes.slice();
    other[0] = 200;
    expect(() => decodeState(other)).toThrow(UnreadableStateError);
  });
  test('cut short, too long, empty', () => {
    expect(() => decodeState(bytes.subarray(0, bytes.length - 1))).toThrow(UnreadableStateError);
    expect(() => decodeState(new Uint8Array([...bytes, 0]))).toThrow(UnreadableStateError);
    expect(() => decodeState(new Uint8Array())).toThrow(UnreadableStateError);
  });
});

describe('events that cannot be', () => {
  const fault = (state: PopulationState, event: PopulationEvent) => {
    try {
      applyEvent(state, event);
    } catch (error) {
      if (error instanceof CalculationError) return { path: error.path, message: error.message };
      throw error;
    }
    return null;
  };
  const certain = startState(
    { date: '2025-01-06', animals: 12, sdLog: 0 },
    { growthPerWeek: { median: 0.1, sdLog: 0.3 }, capacity: { median: 100, sdLog: 0.3 }, processSd: 0 },
  );
  const gone = applyEvent(certain, { date: '2025-01-06', kind: 'removed', animals: 12 });

  test('one before the last', () => {
    expect(fault(all[5]!, { date: '2025-01-01', kind: 'added', animals: 1 })?.path).toBe('date');
  });

  test('more taken out than could be there: extinct, and no fault', () => {
    const state = applyEvent(certain, { date: '2025-01-06', kind: 'removed', animals: 500 });
    expect(summarise(state, { ...question, asOf: '2025-01-06' })).toMatchObject({
      extinct: 1,
      now: { mean: 0, median: 0, lower: 0, upper: 0 },
      fullness: { median: 0, lower: 0, upper: 0 },
    });
  });

  test('animals seen where surely none are left', () => {
    const found = fault(gone, {
      date: '2025-01-13',
      kind: 'count',
      method: 'visible',
      counted: 1,
      detection,
      level: 0.9,
    });
    expect(found?.path).toBe('counted');
    expect(found?.message).toMatch(/^contradicts what went before/);
    const whole = fault(gone, {
      date: '2025-01-13',
      kind: 'count',
      method: 'full',
      counted: 3,
      relativeSd: 0.05,
      level: 0.9,
    });
    expect(whole?.path).toBe('counted');
    const caught = fault(gone, {
      date: '2025-01-13',
      kind: 'count',
      method: 'removal',
      catches: [9, 3],
      estimator: 'carle-strub',
      level: 0.9,
    });
    expect(caught?.path).toBe('catches');
  });

  test('none found where none are left, and animals added there, are fine', () => {
    const none = applyEvent(gone, {
      date: '2025-01-13',
      kind: 'count',
      method: 'full',
      counted: 0,
      relativeSd: 0.05,
      level: 0.9,
    });
    expect(summarise(none, { ...question, asOf: '2025-01-13' }).extinct).toBe(1);
    const again = applyEvent(none, { date: '2025-01-20', kind: 'added', animals: 15 });
    const now = summarise(again, { ...question, asOf: '2025-01-20' });
    expect(now.extinct).toBe(0);
    expect(now.now.median).toBeCloseTo(15, 2);
  });

  test('an estimator that fails on its data', () => {
    const found = fault(all[0]!, {
      date: '2025-02-01',
      kind: 'count',
      method: 'removal',
      catches: [3, 9],
      estimator: 'zippin',
      level: 0.9,
    });
    expect(found?.path).toBe('catches');
  });
});
