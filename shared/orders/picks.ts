import { animalsPerGroup, type MakeUp } from './make-up.ts';

/** Groups of a line that come from a culture. */
export type Taken = { lineId: number; cultureId: number; groups: number; animals: number };

export type Picked<A extends Taken, L extends MakeUp> = A & { key: string; makeUp: L };

/** What one pick is called in the form of the packing page. */
export const pickKey = (one: Pick<Taken, 'lineId' | 'cultureId'>) => `${one.lineId}-${one.cultureId}`;

/**
 * What is to be fetched, in the order given; groups of one line that were reserved several times from one culture are
 * one pick. What belongs to no line is left out.
 *
 * @example picksOf([{ lineId: 1, cultureId: 7, groups: 1, animals: 14 }, { lineId: 1, cultureId: 7, groups: 2,
 * animals: 28 }], [{ id: 1, ...duo }]) // one pick of 3 groups, 42 animals
 */
export function picksOf<A extends Taken, L extends MakeUp & { id: number }>(
  taken: readonly A[],
  lines: readonly L[],
): Picked<A, L>[] {
  const byId = new Map(lines.map((line) => [line.id, line]));
  const picks = new Map<string, Picked<A, L>>();
  for (const one of taken) {
    const makeUp = byId.get(one.lineId);
    if (!makeUp) continue;
    const key = pickKey(one);
    const known = picks.get(key);
    if (known) {
      known.groups += one.groups;
      known.animals = known.groups * animalsPerGroup(makeUp);
    } else picks.set(key, { ...one, key, makeUp });
  }
  return [...picks.values()];
}
