import { describe, expect, it } from 'vitest';
import { nextCheck } from '../../shared/checks/due.ts';

describe('when a culture wants its next look', () => {
  it.each([
    ['2026-11-17', 7, '2026-11-24', 1],
    ['2026-11-18', 7, '2026-11-25', 0],
    ['2026-11-25', 7, '2026-12-02', -7],
    [null, 7, '2026-01-01', 328],
    ['2024-02-28', 2, '2024-03-01', 999],
  ])('checked %s, every %d days: due %s, %d days over', (last, every, dueOn, overdueDays) => {
    const due = nextCheck(last, '2026-01-01', every, '2026-11-25');
    expect(due).toMatchObject({ dueOn, overdueDays });
  });

  it('says why', () => {
    const reason = (last: string | null, every: number) =>
      nextCheck(last, '2026-01-01', every, '2026-11-25').reason;
    expect(reason(null, 7)).toBe('never checked yet');
    expect(reason('2026-11-25', 1)).toBe('last checked today, wants it every day');
    expect(reason('2026-11-24', 7)).toBe('last checked yesterday, wants it every 7 days');
  });
});
