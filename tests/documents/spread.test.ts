import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { spread } from '../../views/documents/spread.ts';

describe('spread', () => {
  it('leaves labels that do not touch where they want to be', () => {
    expect(spread([10, 50, 90], [10, 10, 10], 0, 100)).toEqual([10, 50, 90]);
  });
  it('moves two that touch apart by the same way', () => {
    expect(spread([50, 52], [10, 10], 0, 100)).toEqual([46, 56]);
  });
  it('keeps inside the bounds', () => {
    expect(spread([1, 2], [10, 10], 0, 100)).toEqual([5, 15]);
    expect(spread([98, 99], [10, 10], 0, 100)).toEqual([85, 95]);
  });
  it('never overlaps, keeps the order, and stays inside where there is room', () => {
    const label = fc.record({
      wish: fc.integer({ min: -20, max: 320 }),
      size: fc.integer({ min: 1, max: 40 }),
    });
    fc.assert(
      fc.property(fc.array(label, { minLength: 1, maxLength: 7 }), (labels) => {
        const wishes = labels.map((each) => each.wish).sort((a, b) => a - b);
        const sizes = labels.map((each) => each.size);
        const centres = spread(wishes, sizes, 0, 300);
        let edge = 0;
        for (const [index, centre] of centres.entries()) {
          const half = (sizes[index] ?? 0) / 2;
          expect(centre - half).toBeGreaterThanOrEqual(edge - 1e-9);
          edge = centre + half;
        }
        expect(edge).toBeLessThanOrEqual(300 + 1e-9);
      }),
    );
  });
});
