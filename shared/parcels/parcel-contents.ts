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

export interface ContentsOfParcel {
  massKg: number;
  heatCapacityJPerKgK: number;
  volumeL: number;
  cups: number;
  /** Cups whose weight or room is taken for granted. */
  assumedCups: number;
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
  let [massG, volumeL, count, assumedCups] = [0, 0, 0, 0];
  for (const one of cups) {
    massG += one.count * (one.eachG ?? usual.cupG);
    volumeL += one.count * (one.eachL ?? usual.cupL);
    count += one.count;
    if (one.eachG === null || one.eachL === null) assumedCups += one.count;
  }
  return {
    massKg: Math.max(1, massG) / 1_000,
    heatCapacityJPerKgK: usual.contentsJPerKgK,
    volumeL,
    cups: count,
    assumedCups,
  };
}
