import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type EnclosureMeasures,
  measuresOf,
  volumeBetweenLitres,
  volumeLitres,
  widthAtMm,
} from '../../shared/enclosures/volume.ts';

const box = { shape: 'box', lengthMm: 300, widthMm: 200, heightMm: 150 } as const;
const cylinder = { shape: 'cylinder', diameterMm: 200, heightMm: 100 } as const;
const cup = { shape: 'frustum', topDiameterMm: 120, bottomDiameterMm: 80, heightMm: 100 } as const;

describe('volume of an enclosure', () => {
  it('is exact for a box', () => {
    expect(volumeLitres(box)).toBe(9);
    expect(volumeLitres(box, 50)).toBe(3);
    expect(volumeBetweenLitres(box, 20, 70)).toBe(3);
  });

  it('is pi for a cylinder of one decimetre radius and height', () => {
    expect(volumeLitres(cylinder)).toBeCloseTo(Math.PI, 12);
  });

  it('agrees with two cones taken from one another', () => {
    // The cup is a cone of height 300 and base 120 without its tip of height 200 and base 80 (similar triangles).
    const cone = (d: number, h: number) => (Math.PI * d * d * h) / 12 / 1e6;
    expect(volumeLitres(cup)).toBeCloseTo(cone(120, 300) - cone(80, 200), 12);
    expect(widthAtMm(cup, 50)).toBe(100);
  });

  it('agrees with slices summed by the midpoint rule', () => {
    const slices = 20_000;
    let sum = 0;
    for (let i = 0; i < slices; i++) {
      const d = widthAtMm(cup, ((i + 0.5) * 60) / slices);
      sum += ((Math.PI * d * d) / 4) * (60 / slices);
    }
    expect(volumeLitres(cup, 60)).toBeCloseTo(sum / 1e6, 9);
  });

  it('turns a frustum with equal ends into a cylinder', () => {
    const straight = { shape: 'frustum', topDiameterMm: 200, bottomDiameterMm: 200, heightMm: 100 } as const;
    expect(volumeLitres(straight, 37)).toBeCloseTo(volumeLitres(cylinder, 37), 12);
  });

  it('adds up layer by layer', () => {
    const mm = fc.integer({ min: 1, max: 2000 });
    const any: fc.Arbitrary<EnclosureMeasures> = fc.oneof(
      fc.record({ shape: fc.constant('box' as const), lengthMm: mm, widthMm: mm, heightMm: mm }),
      fc.record({ shape: fc.constant('cylinder' as const), diameterMm: mm, heightMm: mm }),
      fc.record({
        shape: fc.constant('frustum' as const),
        topDiameterMm: mm,
        bottomDiameterMm: mm,
        heightMm: mm,
      }),
    );
    fc.assert(
      fc.property(any, fc.double({ min: 0, max: 1, noNaN: true }), (enclosure, share) => {
        const depth = share * enclosure.heightMm;
        const whole = volumeLitres(enclosure);
        const parts =
          volumeLitres(enclosure, depth) + volumeBetweenLitres(enclosure, depth, enclosure.heightMm);
        expect(Math.abs(parts - whole)).toBeLessThanOrEqual(1e-9 * Math.max(1, whole));
      }),
      { numRuns: 200, seed: 20261125 },
    );
  });

  it('refuses heights outside the enclosure', () => {
    expect(() => volumeLitres(box, 151)).toThrow(RangeError);
    expect(() => volumeLitres(box, -1)).toThrow(RangeError);
    expect(() => volumeLitres(box, Number.NaN)).toThrow(RangeError);
    expect(() => volumeBetweenLitres(box, 50, 40)).toThrow(RangeError);
  });
});

describe('the measures of a stored enclosure', () => {
  const stored = {
    lengthMm: null,
    widthMm: null,
    heightMm: 120,
    diameterMm: null,
    topDiameterMm: null,
    bottomDiameterMm: null,
  };

  it('keeps what the shape needs', () => {
    expect(measuresOf({ ...stored, shape: 'cylinder', diameterMm: 100 })).toEqual({
      shape: 'cylinder',
      diameterMm: 100,
      heightMm: 120,
    });
    expect(measuresOf({ ...stored, shape: 'box', lengthMm: 1, widthMm: 2 })).toEqual({
      shape: 'box',
      lengthMm: 1,
      widthMm: 2,
      heightMm: 120,
    });
    expect(measuresOf({ ...stored, shape: 'frustum', topDiameterMm: 3, bottomDiameterMm: 2 })).toEqual({
      shape: 'frustum',
      topDiameterMm: 3,
      bottomDiameterMm: 2,
      heightMm: 120,
    });
  });

  it('refuses one that lacks a measure', () => {
    expect(() => measuresOf({ ...stored, shape: 'box', lengthMm: 100 })).toThrow('a box needs its width');
  });
});
