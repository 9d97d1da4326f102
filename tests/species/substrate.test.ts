import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { volumeLitres } from '../../shared/enclosures/volume.ts';
import { CalculationError } from '../../shared/faults.ts';
import { exactLength } from '../../shared/settings/units.ts';
import { substrateInput, substrateMix } from '../../shared/species/substrate.ts';

const mix = (input: unknown) => substrateMix(substrateInput.parse(input));

const box = { shape: 'box', lengthMm: 200, widthMm: 100, heightMm: 90 };
const soil = { material: 'soil', parts: 3 };
const leaves = { material: 'leaf litter', parts: 1, settling: 0.5 };

const sizeMm = fc.double({ min: 20, max: 600, noNaN: true });
const shapes = fc.oneof(
  fc.record({ shape: fc.constant('box'), lengthMm: sizeMm, widthMm: sizeMm, heightMm: sizeMm }),
  fc.record({ shape: fc.constant('cylinder'), diameterMm: sizeMm, heightMm: sizeMm }),
  fc.record({
    shape: fc.constant('frustum'),
    topDiameterMm: sizeMm,
    bottomDiameterMm: sizeMm,
    heightMm: sizeMm,
  }),
);

describe('substrate', () => {
  test('worked example: a box of 1 litre of substrate, leaves that settle by half, for twelve', () => {
    const found = mix({
      enclosure: box,
      layers: [{ name: 'base', depthMm: 50, parts: [soil, leaves] }],
      enclosures: 12,
      spare: 0.1,
    });
    // 3 x 1 + 1 x 0.5 = 3.5 settled parts fill the litre.
    expect(found).toEqual({
      layers: [
        {
          name: 'base',
          litres: 1,
          materials: [
            { material: 'soil', litres: expect.closeTo(3 / 3.5, 12) },
            { material: 'leaf litter', litres: expect.closeTo(1 / 3.5, 12) },
          ],
        },
      ],
      totals: [
        { material: 'soil', litres: expect.closeTo((12 * 1.1 * 3) / 3.5, 12) },
        { material: 'leaf litter', litres: expect.closeTo((12 * 1.1) / 3.5, 12) },
      ],
      freeHeadMm: 40,
    });
  });

  test('a tub with sloping walls: the upper of two equal layers is the larger, by the cone', () => {
    const found = mix({
      enclosure: { shape: 'frustum', topDiameterMm: 120, bottomDiameterMm: 80, heightMm: 100 },
      layers: [
        { name: 'lower', depthMm: 50, parts: [soil] },
        { name: 'upper', depthMm: 50, parts: [soil] },
      ],
      enclosures: 1,
    });
    const cone = (r: number, s: number) => (Math.PI * 50 * (r * r + r * s + s * s)) / 3 / 1e6;
    expect(found.layers.map(({ litres }) => litres)).toEqual([
      expect.closeTo(cone(40, 50), 12),
      expect.closeTo(cone(50, 60), 12),
    ]);
    expect(found.freeHeadMm).toBe(0);
    expect(found.totals).toEqual([
      { material: 'soil', litres: expect.closeTo(cone(40, 50) + cone(50, 60), 12) },
    ]);
  });

  test('nothing spare and nothing settles unless it is said', () => {
    const found = mix({
      enclosure: { shape: 'cylinder', diameterMm: 200, heightMm: 100 },
      layers: [{ name: 'all', depthMm: 100, parts: [soil, { material: 'sand', parts: 1 }] }],
      enclosures: 2,
    });
    expect(found.totals).toEqual([
      { material: 'soil', litres: expect.closeTo(2 * Math.PI * 0.75, 12) },
      { material: 'sand', litres: expect.closeTo(2 * Math.PI * 0.25, 12) },
    ]);
  });

  test('what is mixed settles into exactly the room there is, in any enclosure and recipe', () => {
    const recipe = fc.array(
      fc.record({
        material: fc.constantFrom('soil', 'sand', 'leaves', 'wood'),
        parts: fc.double({ min: 0.1, max: 9, noNaN: true }),
        settling: fc.double({ min: 0.1, max: 1.5, noNaN: true }),
      }),
      { minLength: 1, maxLength: 4 },
    );
    fc.assert(
      fc.property(
        shapes,
        fc.array(recipe, { minLength: 1, maxLength: 4 }),
        fc.integer({ min: 1, max: 40 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (enclosure, recipes, enclosures, spare) => {
          const depthMm = (0.8 * enclosure.heightMm) / recipes.length;
          const layers = recipes.map((parts, i) => ({ name: `layer ${i}`, depthMm, parts }));
          const input = substrateInput.parse({ enclosure, layers, enclosures, spare });
          const found = substrateMix(input);
          const filled = found.layers.reduce((sum, { litres }) => sum + litres, 0);
          expect(filled / volumeLitres(input.enclosure, 0.8 * enclosure.heightMm)).toBeCloseTo(1, 9);
          found.layers.forEach(({ litres, materials }, i) => {
            const settled = materials.reduce(
              (sum, m, j) => sum + m.litres * (recipes[i]?.[j]?.settling as number),
              0,
            );
            expect(settled / litres).toBeCloseTo(1, 9);
          });
          const mixed = found.layers.flatMap(({ materials }) => materials);
          const loose = mixed.reduce((sum, { litres }) => sum + litres, 0);
          const total = found.totals.reduce((sum, { litres }) => sum + litres, 0);
          expect(total / (loose * enclosures * (1 + spare))).toBeCloseTo(1, 9);
          expect(new Set(found.totals.map(({ material }) => material)).size).toBe(found.totals.length);
        },
      ),
    );
  });

  test('layers higher than the enclosure are refused, in words', () => {
    const input = {
      enclosure: box,
      layers: [
        { name: 'base', depthMm: 60, parts: [soil] },
        { name: 'top', depthMm: 30.5, parts: [leaves] },
      ],
      enclosures: 1,
    };
    expect(() => mix(input)).toThrow(CalculationError);
    expect(() => mix(input)).toThrow('are 90.5 mm high together, but the enclosure is only 90 mm');
    const inInches = (lengthMm: number) => exactLength(lengthMm, 'us');
    expect(() => substrateMix(substrateInput.parse(input), inInches)).toThrow(
      /are 3\.56.in high together, but the enclosure is only 3\.54.in/,
    );
    try {
      mix(input);
    } catch (error) {
      expect((error as CalculationError).path).toBe('layers');
    }
  });

  test('full to the rim is allowed, also where the depths add up with a rounding', () => {
    const layers = Array.from({ length: 9 }, (_, i) => ({ name: `${i}`, depthMm: 0.1, parts: [soil] }));
    const found = mix({ enclosure: { ...box, heightMm: 0.9 }, layers, enclosures: 1 });
    expect(found.freeHeadMm).toBeCloseTo(0, 12);
    expect(found.freeHeadMm).toBeGreaterThanOrEqual(0);
  });
});
