import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addDays } from '../../shared/days.ts';
import { sizesOf } from '../../shared/lines/page-sizes.ts';
import { animalsForEffective, inbredBelow, isClonal, startEffect } from '../../shared/lines/page-start.ts';

const from = { foundedOn: '2026-01-01', quarters: [], additions: [], now: null, asOf: '2026-03-22' };

describe('sizes of a culture for its lineage', () => {
  it('are as the example says', () => {
    const quarters = [{ onDay: '2026-03-02', before: 40, mean: 44 }];
    expect(sizesOf({ ...from, quarters, now: 80 })).toEqual([
      { date: '2026-01-31', animals: 40 },
      { date: '2026-03-02', animals: 44 },
      { date: '2026-03-12', animals: 80 },
    ]);
  });

  it('are those of the founding alone when nothing is known', () => {
    expect(sizesOf(from)).toEqual([]);
  });

  it('grow halfway to today for a culture that was never counted', () => {
    expect(sizesOf({ ...from, now: 90 })).toEqual([{ date: '2026-02-10', animals: 90 }]);
  });

  it('stand just before an addition on its day, and just after it on the next', () => {
    const quarters = [{ onDay: '2026-03-01', before: 30, mean: 32 }];
    const additions = [{ onDay: '2026-03-01', before: 30, after: 38 }];
    expect(sizesOf({ ...from, quarters, additions }).slice(-3)).toEqual([
      { date: '2026-03-01', animals: 32 },
      { date: '2026-03-01', animals: 30 },
      { date: '2026-03-02', animals: 38 },
    ]);
    expect(sizesOf({ ...from, additions: [{ onDay: from.asOf, before: 30, after: 38 }] })).toEqual([
      { date: from.asOf, animals: 30 },
    ]);
  });

  it('lie between founding and today, in order', () => {
    const offset = fc.integer({ min: 0, max: 80 });
    const some = fc.double({ min: 0, max: 500, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(fc.record({ offset, before: some, mean: some }), { maxLength: 6 }),
        fc.array(fc.record({ offset, before: some, after: some }), { maxLength: 3 }),
        fc.option(some),
        (quarters, additions, now) => {
          const sizes = sizesOf({
            ...from,
            now,
            quarters: quarters
              .map((q) => ({ ...q, onDay: addDays(from.foundedOn, q.offset) }))
              .sort((a, b) => a.offset - b.offset),
            additions: additions.map((a) => ({ ...a, onDay: addDays(from.foundedOn, a.offset) })),
          });
          const dates = sizes.map(({ date }) => date);
          expect(dates).toEqual([...dates].sort());
          for (const date of dates) expect(date >= from.foundedOn && date <= from.asOf).toBe(true);
        },
      ),
      { numRuns: 60 },
    );
  });
});

describe('what a start does', () => {
  it('is as the examples say', () => {
    expect(startEffect(20, { femaleShare: 0.5, neRatio: 0.5 }, 0.9)).toEqual({
      animals: 20,
      effectiveSize: 10,
      keptOfParent: 0.95,
      kept: 0.855,
    });
    expect(animalsForEffective(50, { femaleShare: 0.5, neRatio: 0.5 })).toBe(100);
    // 4 x 0.9 x 0.1 = 0.36 for each: 50 / 0.36 = 138.9
    expect(animalsForEffective(50, { femaleShare: 0.9, neRatio: 1 })).toBe(139);
    // One pair leaves 1 - 1/4 (Wright 1931; the textbook bottleneck of one breeding pair).
    expect(inbredBelow).toBe(0.75);
  });

  it('says nothing of a species of females alone', () => {
    expect(isClonal({ femaleShare: 1 })).toBe(true);
    expect(isClonal({ femaleShare: 0.95 })).toBe(false);
    expect(animalsForEffective(50, { femaleShare: 1, neRatio: 0.5 })).toBeNull();
  });
});
