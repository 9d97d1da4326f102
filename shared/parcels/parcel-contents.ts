/** So many cups of one kind; null where nobody measured or weighed one. */
export interface CupsOfParcel {
  count: number;
  eachG: number | null;
  eachL: number | null;
}

/** What is taken for granted of a cup with its moist filling. */
export interface UsualCup {
  cupG: number;
  cupL: number;
  contentsJPerKgK: number;
}

/** So many cups of one kind, as they were reckoned. */
export type CupsReckoned = { count: number; eachG: number; eachL: number };

export interface ContentsOfParcel {
  massKg: number;
  heatCapacityJPerKgK: number;
  volumeL: number;
  cups: number;
  /** Cups whose weight or room is taken for granted. */
  assumedCups: number;
  /** What it was added up from, kind by kind. */
  parts: readonly CupsReckoned[];
}

/**
 * What a parcel has to keep warm, from its cups: their mass with the filling, their room, their heat capacity. Padding and
 * the animals themselves are left out: they are light, and leaving them out makes a parcel follow the weather a little
 * faster than it does.
 *
 * @example contentsOfParcel([{ count: 2, eachG: null, eachL: 0.2 }], { cupG: 60, cupL: 0.3, contentsJPerKgK: 3000 })
 * // 0.12 kg, 0.4 l, 2 cups of which both are assumed in weight
 */
export function contentsOfParcel(cups: readonly CupsOfParcel[], usual: UsualCup): ContentsOfParcel {
  const parts = cups.map(({ count, eachG, eachL }) => ({
    count,
    eachG: eachG ?? usual.cupG,
    eachL: eachL ?? usual.cupL,
  }));
  const sum = (of: (part: CupsReckoned) => number) => parts.reduce((total, part) => total + of(part), 0);
  const assumed = cups.filter(({ eachG, eachL }) => eachG === null || eachL === null);
  return {
    massKg:
      Math.max(
        1,
        sum(({ count, eachG }) => count * eachG),
      ) / 1_000,
    heatCapacityJPerKgK: usual.contentsJPerKgK,
    volumeL: sum(({ count, eachL }) => count * eachL),
    cups: sum(({ count }) => count),
    assumedCups: assumed.reduce((total, { count }) => total + count, 0),
    parts,
  };
}
