/** The temperatures a species bears, and how much of it stands in a place. */
export interface KeptSpecies {
  scientificName: string;
  cultures: number;
  lethalLowC: number;
  safeLowC: number;
  safeHighC: number;
  lethalHighC: number;
}

/** The narrowest range that every species kept in a place bears; null where nothing is kept. */
export function commonRange(kept: readonly KeptSpecies[]): { lowC: number; highC: number } | null {
  if (kept.length === 0) return null;
  return {
    lowC: Math.max(...kept.map(({ safeLowC }) => safeLowC)),
    highC: Math.min(...kept.map(({ safeHighC }) => safeHighC)),
  };
}
