import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { clearBefore, type Look, sighting } from '../../shared/traces/sighting.ts';

const looks = (...words: string[]): Look[] =>
  words.map((word) => {
    const [day = '', what] = word.split(' ');
    return { onDay: `2026-11-${day.padStart(2, '0')}`, seen: what === '?' ? null : what === 'seen' };
  });
const on = (day: number) => `2026-11-${String(day).padStart(2, '0')}`;

describe('a sighting', () => {
  test('worked example: the first day of the trouble, and the last clear day before it', () => {
    expect(sighting(looks('1 clear', '8 seen', '9 seen'), on(10))).toEqual({ seenOn: on(8), clearOn: on(1) });
    expect(clearBefore(looks('1 clear'), on(1))).toBeNull();
  });

  test.each([
    ['never looked', [], { seenOn: null, clearOn: null }],
    [
      'only clear looks: the last before today',
      ['1 clear', '5 clear', '10 clear'],
      { seenOn: null, clearOn: on(5) },
    ],
    ['never clear before', ['3 seen', '5 clear'], { seenOn: on(3), clearOn: null }],
    [
      'an older trouble that was over',
      ['1 seen', '3 clear', '5 seen', '7 clear'],
      { seenOn: on(5), clearOn: on(3) },
    ],
    [
      'clear and seen on one day is no clear day',
      ['1 clear', '3 seen', '5 clear', '5 seen'],
      { seenOn: on(3), clearOn: on(1) },
    ],
    [
      'looks that say nothing',
      ['1 clear', '2 ?', '3 seen', '4 ?', '5 seen'],
      { seenOn: on(3), clearOn: on(1) },
    ],
  ])('%s', (_name, words, expected) => {
    expect(sighting(looks(...words), on(10))).toEqual(expected);
    expect(sighting(looks(...[...words].reverse()), on(10))).toEqual(expected);
  });

  test('whatever was written: no clear day lies within the trouble, nor was it seen between the two days', () => {
    const some = fc.array(
      fc.record({ onDay: fc.integer({ min: 1, max: 9 }).map(on), seen: fc.constantFrom(true, false, null) }),
      { maxLength: 12 },
    );
    fc.assert(
      fc.property(some, (list) => {
        const { seenOn, clearOn } = sighting(list, on(10));
        const seen = new Set(list.filter((look) => look.seen === true).map((look) => look.onDay));
        expect(seenOn === null).toBe(seen.size === 0);
        if (clearOn !== null) expect(seen.has(clearOn)).toBe(false);
        for (const day of seen) {
          if (seenOn === null) continue;
          expect(day >= seenOn || (clearOn !== null && day < clearOn)).toBe(true);
          if (clearOn !== null && day > clearOn) expect(day >= seenOn).toBe(true);
        }
      }),
    );
  });
});
