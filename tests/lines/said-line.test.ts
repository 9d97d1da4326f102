import { expect, it } from 'vitest';
import { sumOfBelieved } from '../../shared/counts/trend.ts';
import { sayLine } from '../../views/lines/say-worked-out.ts';

// Independent doubts add by their squares: Taylor, An Introduction to Error Analysis, 2nd ed. 1997, section 3.5.
it('a line’s number is said as the sum of its cultures’, the doubts added by their squares', () => {
  const onDay = '2026-11-25';
  const parts = [
    { code: 'A-1', onDay, median: 100, lower: 70, upper: 130 },
    { code: 'A-2', onDay, median: 60, lower: 20, upper: 100 },
  ];
  const before = { onDay: '2026-05-27', median: 40, lower: 30, upper: 50 };
  const trend = [before, sumOfBelieved(onDay, parts)];
  // √(30² + 40²) = 50
  expect(sayLine({ name: 'Old quarry', trend, parts })).toEqual([
    'For example line Old quarry, 25 Nov 2026: A-1 100 + A-2 60 = 160 animals.',
    'The halves of their intervals are added as independent doubts are (variances add): √(30² + 40²) = 50, so 110 to 210.',
    'Half a year: about 40 (30 to 50) on 27 May 2026, about 160 (110 to 210) on 25 Nov 2026; each middle lies outside the doubt of the other, so it grew.',
  ]);
  expect(sayLine(undefined)).toEqual([null]);
});
