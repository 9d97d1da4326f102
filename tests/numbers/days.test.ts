import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { addDays, day, daysBetween, fromEpochDay, isDay, toEpochDay } from '../../shared/days.ts';

describe('days', () => {
  test('worked examples', () => {
    expect(toEpochDay('1970-01-01')).toBe(0);
    expect(toEpochDay('2026-03-01')).toBe(20513);
    expect(fromEpochDay(20513)).toBe('2026-03-01');
    expect(addDays('2024-02-28', 2)).toBe('2024-03-01');
    expect(daysBetween('2026-02-28', '2026-03-01')).toBe(1);
    expect(isDay('2026-02-30')).toBe(false);
  });

  test('days and their numbers undo each other', () => {
    fc.assert(
      fc.property(fc.integer({ min: toEpochDay('0100-01-01'), max: toEpochDay('9999-12-31') }), (n) => {
        expect(toEpochDay(fromEpochDay(n))).toBe(n);
      }),
    );
  });

  test.each([
    '2026-02-30',
    '2023-02-29',
    '1900-02-29',
    '2026-13-01',
    '2026-00-10',
    '2026-01-00',
    '0099-01-01',
    '2026-1-5',
    '01.02.2026',
    '2026-01-01T00:00',
    '',
  ])('%j is no day', (text) => {
    expect(isDay(text)).toBe(false);
    expect(day.safeParse(text).success).toBe(false);
    expect(() => toEpochDay(text)).toThrow(RangeError);
  });

  test('leap days of the Gregorian rule are days', () => {
    expect(isDay('2024-02-29')).toBe(true);
    expect(isDay('2000-02-29')).toBe(true);
    expect(day.parse('2024-02-29')).toBe('2024-02-29');
  });

  test('the schema says what is wrong, once', () => {
    expect(day.safeParse('2026-02-30').error?.issues.map((issue) => issue.message)).toEqual([
      'is not a day of the calendar',
    ]);
    expect(day.safeParse('soon').error?.issues.map((issue) => issue.message)).toEqual([
      'must be a day written YYYY-MM-DD',
    ]);
  });

  test('out of the calendar is an error, not a strange text', () => {
    expect(() => addDays('9999-12-31', 1)).toThrow(RangeError);
    expect(() => fromEpochDay(0.5)).toThrow(RangeError);
    expect(() => fromEpochDay(Number.NaN)).toThrow(RangeError);
  });
});
