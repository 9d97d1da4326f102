import type { PopulationProfile } from '../../shared/counts/population/form.ts';

/** Priors to draw cultures from. */
export interface Setting {
  readonly name: string;
  readonly start: { readonly animals: number; readonly sdLog: number };
  readonly profile: PopulationProfile;
}

function setting(
  name: string,
  [animals, startSd]: [number, number],
  [growth, growthSd]: [number, number],
  [capacity, capacitySd]: [number, number],
  processSd: number,
): Setting {
  return {
    name,
    start: { animals, sdLog: startSd },
    profile: {
      growthPerWeek: { median: growth, sdLog: growthSd },
      capacity: { median: capacity, sdLog: capacitySd },
      processSd,
    },
  };
}

/** From well known to hardly known, from quiet to restless, and colonies small enough to die out. */
export const settings: readonly Setting[] = [
  setting('usual', [12, 0.1], [0.15, 0.4], [200, 0.4], 0.08),
  setting('hardly known', [15, 0.4], [0.15, 0.9], [200, 0.9], 0.1),
  setting('well known', [12, 0], [0.15, 0.1], [200, 0.1], 0.08),
  setting('quiet', [12, 0.1], [0.15, 0.5], [200, 0.5], 0.01),
  setting('restless', [12, 0.2], [0.15, 0.5], [200, 0.5], 0.3),
  setting('small', [5, 0.3], [0.1, 0.6], [30, 0.6], 0.15),
];
