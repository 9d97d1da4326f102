import { describe, expect, it } from 'vitest';
import { type CareFacts, careDue } from '../../shared/checks/care-due.ts';
import { sayDue, sayRound } from '../../views/checks/say-worked-out.ts';

const today = '2026-11-25';
const facts: CareFacts = {
  foundedOn: '2025-01-01',
  lastCheckOn: '2026-11-17',
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
const said = (changed: Partial<CareFacts>, what = 'check') => {
  const due = careDue({ ...facts, ...changed }, today).find((one) => one.what === what);
  return due && sayDue({ ...due, byTap: false }, { today });
};

describe('why something is due, with the days of the case', () => {
  it.each([
    [{}, 'check', 'The look: last on 17 Nov + 7 days = 24 Nov, yesterday.'],
    [{ lastCheckOn: null }, 'check', 'The look: founded on 1 Jan 2025, so due since then, 23 months ago.'],
    [{ lastFedOn: '2026-11-18' }, 'feed', 'The food: fed on 18 Nov + 7 days = 25 Nov, today.'],
    [
      { lastFedOn: '2026-11-12', left: { onDay: '2026-11-20', amount: 'plenty' } },
      'feed',
      'The food: plenty left on 20 Nov + 4 days (half of 7, rounded up) = 24 Nov, yesterday.',
    ],
    [
      { lastFedOn: '2026-11-22', left: { onDay: '2026-11-25', amount: 'none' } },
      'feed',
      'The food: nothing left on 25 Nov, so today.',
    ],
    [{ fruitSince: '2026-11-20' }, 'fruit', 'The fruit: put in on 20 Nov + 3 days = 23 Nov, 2 days ago.'],
    [
      { substrateMonths: 12, renewedOn: '2025-11-20' },
      'substrate',
      // twelve months of 365.25 days come to 365 whole ones, and 2026 has no leap day
      'The fresh substrate: renewed on 20 Nov 2025 + 365 days (12 months) = 20 Nov, 5 days ago.',
    ],
    [
      { dries: { sum: { since: 'wet', from: '2026-11-14', days: 10 }, reason: '' } },
      'water',
      'The water: wet on 14 Nov + 10 days until dry is likelier than not = 24 Nov, yesterday.',
    ],
  ] as [Partial<CareFacts>, string, string][])('%o', (changed, what, words) => {
    expect(said(changed, what)).toBe(words);
  });

  it('says what hangs on a count, by either end of the interval', () => {
    const number = { lower: 40, upper: 120, reserve: 49.5, promised: 0, groupSize: 14 };
    // (120 − 50) ÷ 14 = 5 groups; 40 is less than must stay
    expect(said({ number, lastCountOn: '2026-10-28' }, 'count')).toBe(
      'The count: last on 28 Oct + 28 days = 25 Nov, today; 40 to 120 animals − 50 that must stay − 0 promised, ÷ 14 animals a group = none to 5 groups.',
    );
  });

  it('lists each culture that is due, and not without end', () => {
    const [look] = careDue(facts, today);
    const open = look ? [{ ...look, byTap: false }] : [];
    const rows = Array.from({ length: 90 }, (_, i) => ({ code: `C-${i}`, open: i === 0 ? [] : open }));
    const lines = sayRound(rows, { today });
    expect(lines[0]).toBe('C-1. The look: last on 17 Nov + 7 days = 24 Nov, yesterday.');
    expect(lines).toHaveLength(81);
    expect(lines.at(-1)).toBe('And 9 more in the same way.');
  });
});
