import { describe, expect, it } from 'vitest';
import { mlOf, shownVolume, volumeUnit, volumeUnitsOf } from '../../shared/settings/typed-volume.ts';

describe('small volumes', () => {
  // 1 US liquid quart is 946.352946 ml, 4 cups, 64 tablespoons (NIST Handbook 44, Appendix C)
  it.each([
    [1, 'ml', 1],
    [0.5, 'l', 500],
    [1, 'qt', 946.4],
    [1, 'cup', 236.6],
    [1, 'tbsp', 14.8],
  ] as const)('%d %s is %d ml', (amount, unit, ml) => {
    expect(mlOf(amount, unit)).toBe(ml);
  });

  it('come back as they were typed', () => {
    for (const units of ['metric', 'us'] as const)
      for (const { value } of volumeUnitsOf(units))
        for (const typed of [0.5, 1, 2.5, 12])
          expect(Number(shownVolume(mlOf(typed, value), value))).toBeCloseTo(typed, 1);
  });

  it('are millilitres where nobody said', () => {
    expect(volumeUnit.parse(undefined)).toBe('ml');
    expect(volumeUnit.safeParse('bucket').success).toBe(false);
  });
});
