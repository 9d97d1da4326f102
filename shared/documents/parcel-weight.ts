/** A part of what a parcel weighs; `eachG` null where nobody has weighed one. */
export interface WeighedPart {
  what: string;
  count: number;
  eachG: number | null;
}

export interface ParcelWeight {
  parts: (WeighedPart & { massG: number | null })[];
  /** Grams of all that is known. */
  knownG: number;
  /** What is not in that sum. */
  unknown: string[];
}

/**
 * What a parcel weighs, from what is known of its parts; the others are named and never guessed. Padding and paper are
 * in nobody's figures: the scales have the last word.
 *
 * @example parcelWeight([{ what: 'box', count: 1, eachG: 180 }, { what: 'cups', count: 2, eachG: 8 },
 *   { what: 'animals', count: 28, eachG: null }]) // knownG 196, unknown ['animals']
 */
export function parcelWeight(given: readonly WeighedPart[]): ParcelWeight {
  const parts = given
    .filter(({ count }) => count > 0)
    .map((part) => ({ ...part, massG: part.eachG === null ? null : part.eachG * part.count }));
  return {
    parts,
    knownG: parts.reduce((sum, { massG }) => sum + (massG ?? 0), 0),
    unknown: parts.filter(({ massG }) => massG === null).map(({ what }) => what),
  };
}
