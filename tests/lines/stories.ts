import fc from 'fast-check';
import { addDays } from '../../shared/days.ts';
import type { LineageInput } from '../../shared/lines/form.ts';

const START = '2025-01-01';
const LONG = 400;

/** Lineages of up to eight cultures, with sizes, and additions on days of their own. */
export const someLineage: fc.Arbitrary<LineageInput> = fc
  .record({
    seeds: fc.array(
      fc.record({
        offset: fc.integer({ min: 0, max: 200 }),
        founding: fc.integer({ min: 1, max: 60 }),
        wild: fc.boolean(),
        parents: fc.array(fc.record({ pick: fc.nat(7), animals: fc.integer({ min: 1, max: 40 }) }), {
          minLength: 1,
          maxLength: 3,
        }),
        sizes: fc.array(fc.record({ offset: fc.integer({ min: 0, max: LONG }), animals: fc.nat(300) }), {
          maxLength: 3,
        }),
        additions: fc.array(fc.record({ pick: fc.nat(7), animals: fc.integer({ min: 1, max: 40 }) }), {
          maxLength: 2,
        }),
      }),
      { minLength: 1, maxLength: 8 },
    ),
    femaleShare: fc.double({ min: 0, max: 1, noNaN: true }),
    neRatio: fc.double({ min: 0.05, max: 1, noNaN: true }),
    generationDays: fc.integer({ min: 10, max: 400 }),
  })
  .map(({ seeds, ...breeding }) => {
    const offsets = seeds.map(({ offset }) => offset).sort((a, b) => a - b);
    const code = (i: number) => `C${i + 1}`;
    const cultures = seeds.map(({ founding, wild, parents, sizes, additions }, i) => {
      const foundedOn = addDays(START, offsets[i]!);
      const earlier = new Map(parents.map(({ pick, animals }) => [pick % Math.max(1, i), animals]));
      const origin =
        wild || i === 0
          ? { wild: founding }
          : { parents: [...earlier].map(([place, animals]) => ({ code: code(place), animals })) };
      return {
        code: code(i),
        foundedOn,
        ...origin,
        sizes: sizes.map(({ offset, animals }) => {
          return { date: addDays(START, Math.max(offset, offsets[i]!)), animals };
        }),
        // No two additions fall on one day, so that the order of the list says nothing.
        additions: additions.flatMap(({ pick, animals }, k) => {
          const place = pick % seeds.length;
          return place === i ? [] : [{ date: addDays(START, 210 + 2 * i + k), code: code(place), animals }];
        }),
      };
    });
    return { cultures, ...breeding, asOf: addDays(START, LONG) };
  });
