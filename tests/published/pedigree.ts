import { lineageInput } from '../../shared/lines/form.ts';
import { kinship } from '../../shared/lines/kinship.ts';

/** Who, and both parents; null for an unknown one. */
export type Animal = readonly [id: string, one: string | null, other: string | null];

/**
 * The kinship of single animals, asked of the calculation for cultures: each animal is written as two cultures
 * of one gene copy each (Ne = 0.5), and each copy is founded from both copies of one parent, half and half, as
 * Mendel has it. The kinship of two animals is the mean over their copies, the inbreeding of one the kinship
 * between its own two.
 */
export function pedigree(animals: readonly Animal[]): {
  kinship(one: string, other: string): number;
  inbreeding(id: string): number;
} {
  const foundedOn = '2026-01-01';
  const copies = (id: string) => [`${id}/1`, `${id}/2`] as const;
  const cultures = animals.flatMap(([id, ...parents]) =>
    copies(id).map((code, i) => {
      const parent = parents[i];
      if (parent === null || parent === undefined) return { code, foundedOn, wild: 1 };
      return { code, foundedOn, parents: copies(parent).map((from) => ({ code: from, animals: 1 })) };
    }),
  );
  // Two founding genes must count as one copy: 0.25 x 4 x 0.5 x 0.5 x 2 = 0.5.
  const breeding = { generationDays: 90, femaleShare: 0.5, neRatio: 0.25 };
  const found = kinship(lineageInput.parse({ cultures, ...breeding, asOf: foundedOn }));
  const between = (one: string, other: string) => found.at(found.placeOf(one)!, found.placeOf(other)!);
  return {
    kinship(one, other) {
      const pairs = copies(one).flatMap((a) => copies(other).map((b) => between(a, b)));
      return pairs.reduce((sum, f) => sum + f, 0) / pairs.length;
    },
    inbreeding: (id) => between(...copies(id)),
  };
}
