/** The temperatures a species bears, and how much of it stands in a place. */
export interface KeptSpecies {
  scientificName: string;
  cultures: number;
  lethalLowC: number;
  safeLowC: number;
  safeHighC: number;
  lethalHighC: number;
}

export interface Leaving {
  scientificName: string;
  cultures: number;
  limitC: number;
  side: 'below' | 'above';
  isDeadly: boolean;
}

/**
 * Which species kept in a place a temperature harms: below or above what they bear safely, the worst first. Degrees
 * Celsius; a limit itself is still borne.
 *
 * @example leavingRange(31, [{ scientificName: 'Exemplum', cultures: 2, lethalLowC: 0, safeLowC: 8, safeHighC: 29,
 *   lethalHighC: 36 }]) // [{ scientificName: 'Exemplum', cultures: 2, limitC: 29, side: 'above', isDeadly: false }]
 */
export function leavingRange(tempC: number, kept: readonly KeptSpecies[]): Leaving[] {
  return kept
    .flatMap((one): Leaving[] => {
      const { scientificName, cultures } = one;
      if (tempC < one.safeLowC) {
        const isDeadly = tempC < one.lethalLowC;
        return [
          {
            scientificName,
            cultures,
            side: 'below',
            isDeadly,
            limitC: isDeadly ? one.lethalLowC : one.safeLowC,
          },
        ];
      }
      if (tempC > one.safeHighC) {
        const isDeadly = tempC > one.lethalHighC;
        return [
          {
            scientificName,
            cultures,
            side: 'above',
            isDeadly,
            limitC: isDeadly ? one.lethalHighC : one.safeHighC,
          },
        ];
      }
      return [];
    })
    .sort((a, b) => Number(b.isDeadly) - Number(a.isDeadly) || b.cultures - a.cultures);
}

/** The narrowest range that every species kept in a place bears; null where nothing is kept. */
export function commonRange(kept: readonly KeptSpecies[]): { lowC: number; highC: number } | null {
  if (kept.length === 0) return null;
  return {
    lowC: Math.max(...kept.map(({ safeLowC }) => safeLowC)),
    highC: Math.min(...kept.map(({ safeHighC }) => safeHighC)),
  };
}
