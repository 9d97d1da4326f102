import { describe, expect, it } from 'vitest';
import { type EnclosureMeasures, volumeLitres } from '../../shared/enclosures/volume.ts';
import { sayVolume } from '../../views/enclosures/say-worked-out.ts';

const said = (measures: EnclosureMeasures, substrateDepthMm: number, units: 'metric' | 'us' = 'metric') =>
  sayVolume(
    {
      measures,
      substrateDepthMm,
      substrateLitres: volumeLitres(measures, substrateDepthMm),
      totalLitres: volumeLitres(measures),
    },
    { units },
  ).replaceAll('\u00a0', ' ');

/** A thousand slices of a round tub: its volume from first principles, in cubic centimetres. */
const sliced = (acrossCm: (share: number) => number, highCm: number) =>
  Array.from({ length: 1000 }, (_, i) => Math.PI * (acrossCm((i + 0.5) / 1000) / 2) ** 2).reduce(
    (sum, area) => sum + (area * highCm) / 1000,
    0,
  );

/** `π ÷ 12 × 10 × (9² + 9 × 12 + 12²)` as whoever reads it multiplies it out. */
function multiplied(words: string): number {
  const [, over = '', deep = '', low = '', high = ''] =
    /^π ÷ (\d+) × ([\d.]+) × \(([\d.]+)² \+ [\d.]+ × ([\d.]+) \+ [\d.]+²\)$/.exec(words) ?? [];
  const [a, b] = [Number(low), Number(high)];
  return (Math.PI / Number(over)) * Number(deep) * (a * a + a * b + b * b);
}

describe('litres with the measures of the case', () => {
  it('of a box', () => {
    expect(said({ shape: 'box', lengthMm: 290, widthMm: 190, heightMm: 110 }, 40)).toBe(
      '29 × 19 × 11 cm³ ÷ 1,000 in a litre = 6.1 L in all; 4 cm deep: 29 × 19 × 4 = 2.2 L of substrate.',
    );
  });

  it('of a tub, by the product that is said and by slices', () => {
    const words = said({ shape: 'frustum', topDiameterMm: 120, bottomDiameterMm: 90, heightMm: 100 }, 50);
    const [, whole = '', part = ''] =
      /^(.*) cm³ ÷ 1,000 in a litre = 870 ml in all; 5 cm deep: (.*) = 370 ml of substrate\.$/.exec(words) ??
      [];
    expect(multiplied(whole)).toBeCloseTo(
      sliced((share) => 9 + 3 * share, 10),
      2,
    );
    expect(multiplied(part)).toBeCloseTo(
      sliced((share) => 9 + 1.5 * share, 5),
      2,
    );
  });

  it('of a jar, in inches and quarts', () => {
    // π ÷ 4 × 4² × 5 = 62.8 cubic inches: 1.09 US liquid quarts of 57.75 (NIST Handbook 44, appendix C)
    expect(said({ shape: 'cylinder', diameterMm: 101.6, heightMm: 127 }, 50.8, 'us')).toMatch(
      /^π ÷ 4 × 4² × 5 cubic inches ÷ 57\.75 in a quart = .* in all; 2 in deep: π ÷ 4 × 4² × 2 = .* of substrate\.$/,
    );
  });
});
