import type { KeptSpecies } from './limits.ts';

/** A reading that is older says nothing of the air now, and warns of nothing. Common practice, no source. */
export const FRESH_MS = 36 * 3_600_000;
/** A sensor that sent nothing for so long has stopped. Common practice, no source. */
export const SILENT_MS = 3 * 3_600_000;
/** The air is back within a limit only when it is so far within it, and has been for a while: else it is a wobble. */
export const BACK_BY_C = 0.5;
export const BACK_FOR_MS = 15 * 60_000;

export type AirReading = { at: number; tempC: number; isSensor: boolean };
export type Side = 'below' | 'above';

export interface OutSpecies {
  scientificName: string;
  cultures: number;
  /** The limit that was passed: what the species bears safely. */
  limitC: number;
  /** What it does not survive, where that was passed too; else null. */
  deadlyC: number | null;
}

/** What the readings of a place say of the species whose air this is, on one side of their range. */
export interface AirWarning {
  side: Side;
  /** The newest reading. */
  nowC: number;
  readAt: number;
  /** When the first of these species' limits was passed; `isSinceKnown` is false where it was before all readings. */
  sinceAt: number;
  isSinceKnown: boolean;
  /** The highest, or lowest, since then. */
  farthestC: number;
  /** The newest reading is a sensor's that has sent nothing since for hours. */
  isSilent: boolean;
  /** The worst first. */
  species: OutSpecies[];
}

type Stretch = { sinceAt: number; isSinceKnown: boolean; farthestC: number };

/**
 * Since when readings are beyond a limit, or null where they are within it. Beyond it means farther than the limit
 * itself; back within it are they when one is half a degree within and none of the quarter of an hour before was beyond,
 * so that a temperature about the limit does not come and go.
 *
 * Units: degrees Celsius, milliseconds. Readings oldest first.
 *
 * @example stretchBeyond([{ at: 0, tempC: 29, isSensor: false }], { side: 'above', limitC: 28 }, 60_000)
 * // { sinceAt: 0, isSinceKnown: false, farthestC: 29 }
 */
export function stretchBeyond(
  readings: readonly Pick<AirReading, 'at' | 'tempC'>[],
  { side, limitC }: { side: Side; limitC: number },
  now: number,
): Stretch | null {
  const by = (tempC: number) => (side === 'above' ? tempC - limitC : limitC - tempC);
  let stretch: Stretch | null = null;
  let lastOutAt = 0;
  for (const [i, { at, tempC }] of readings.entries()) {
    if (by(tempC) > 0) {
      stretch ??= { sinceAt: at, isSinceKnown: i > 0, farthestC: tempC };
      if (by(tempC) > by(stretch.farthestC)) stretch.farthestC = tempC;
      lastOutAt = at;
    } else if (by(tempC) <= -BACK_BY_C && at - lastOutAt >= BACK_FOR_MS) stretch = null;
  }
  const last = readings.at(-1);
  const isBack = last !== undefined && by(last.tempC) <= -BACK_BY_C && now - lastOutAt >= BACK_FOR_MS;
  return isBack ? null : stretch;
}

function ofSide(side: Side, readings: readonly AirReading[], kept: readonly KeptSpecies[], now: number) {
  const out = kept.flatMap((one) => {
    const [limitC, lethalC] =
      side === 'above' ? [one.safeHighC, one.lethalHighC] : [one.safeLowC, one.lethalLowC];
    const stretch = stretchBeyond(readings, { side, limitC }, now);
    if (!stretch) return [];
    const isDeadly = side === 'above' ? stretch.farthestC > lethalC : stretch.farthestC < lethalC;
    const { scientificName, cultures } = one;
    return [{ stretch, species: { scientificName, cultures, limitC, deadlyC: isDeadly ? lethalC : null } }];
  });
  return out.sort(
    (a, b) =>
      Number(b.species.deadlyC !== null) - Number(a.species.deadlyC !== null) ||
      b.species.cultures - a.species.cultures ||
      (a.species.scientificName < b.species.scientificName ? -1 : 1),
  );
}

/**
 * Answers: which species the air of a place is too cold or too warm for, since when, and how old that is; nothing where
 * the newest reading is older than a day and a half.
 *
 * Units: degrees Celsius, instants in milliseconds. Readings of one place, oldest first; limits are those of the species.
 *
 * @example airWarnings([{ at: 0, tempC: 31, isSensor: false }], [{ scientificName: 'Exemplum', cultures: 2,
 *   lethalLowC: 0, safeLowC: 8, safeHighC: 28, lethalHighC: 36 }], 0)[0]?.species
 * // [{ scientificName: 'Exemplum', cultures: 2, limitC: 28, deadlyC: null }]
 */
export function airWarnings(
  readings: readonly AirReading[],
  kept: readonly KeptSpecies[],
  now: number,
): AirWarning[] {
  const last = readings.at(-1);
  if (!last || now - last.at > FRESH_MS) return [];
  return (['above', 'below'] as const).flatMap((side): AirWarning[] => {
    const out = ofSide(side, readings, kept, now);
    if (out.length === 0) return [];
    const stretches = out.map(({ stretch }) => stretch);
    const farthest = stretches.map(({ farthestC }) => farthestC);
    return [
      {
        side,
        nowC: last.tempC,
        readAt: last.at,
        sinceAt: Math.min(...stretches.map(({ sinceAt }) => sinceAt)),
        isSinceKnown: stretches.every(({ isSinceKnown }) => isSinceKnown),
        farthestC: side === 'above' ? Math.max(...farthest) : Math.min(...farthest),
        isSilent: last.isSensor && now - last.at > SILENT_MS,
        species: out.map(({ species }) => species),
      },
    ];
  });
}
