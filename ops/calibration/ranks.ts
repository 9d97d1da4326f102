import { constantsOf } from '../../shared/counts/population/constants.ts';
import { type Distribution, quantile } from '../../shared/counts/population/mixture.ts';
import { bandOf, outlookFrom } from '../../shared/counts/population/outlook.ts';
import { stateAfter } from '../../shared/counts/population/population.ts';
import { chanceFrom } from './chance.ts';
import { FOUNDED_ON, type History, WEEKS_AHEAD } from './history.ts';
import type { Setting } from './settings.ts';

export const QUANTITIES = ['number now', 'four weeks ahead', 'growth per week', 'capacity'] as const;
export type Quantity = (typeof QUANTITIES)[number];

/** Where the truth fell: in which tenth of the posterior, and whether inside the 90 % interval. */
export interface Fall {
  readonly tenth: number;
  readonly held: boolean;
}

const LEVELS = [0.8, 0.6, 0.4, 0.2];

/** Where the truth of a simulated history falls in what the filter says of it. */
export function falls(setting: Setting, history: History, seed: number): Record<Quantity, Fall> {
  const { events, asOf, truth } = history;
  const start = { date: FOUNDED_ON, ...setting.start };
  const state = stateAfter({ start, profile: setting.profile, events });
  const outlook = outlookFrom(state, asOf, WEEKS_AHEAD);
  const chance = chanceFrom(seed ^ 0x5bd1e995);
  const ahead = outlook.weeks.at(-1)!.number;
  return {
    'number now': ofNumber(outlook.now, truth.now, chance.uniform()),
    'four weeks ahead': ofNumber(ahead, truth.ahead, chance.uniform()),
    'growth per week': ofConstant((level) => constantsOf(state, { r: 1, k: 0 }, level), truth.growth),
    capacity: ofConstant((level) => constantsOf(state, { r: 0, k: 1 }, level), truth.capacity),
  };
}

/** Extinction is a lump of probability at 0: a true 0 falls anywhere within the lump, by a fair draw. */
function ofNumber(distribution: Distribution, truth: number, draw: number): Fall {
  if (truth === 0) {
    const place = draw * distribution.nil;
    return { tenth: Math.floor(place * 10), held: place >= 0.05 && place <= 0.95 };
  }
  const cuts = Array.from({ length: 9 }, (_, i) => quantile(distribution, (i + 1) / 10));
  const { lower, upper } = bandOf(distribution, 0.9);
  return { tenth: cuts.filter((cut) => cut < truth).length, held: truth >= lower && truth <= upper };
}

function ofConstant(
  bandAt: (level: number) => { median: number; lower: number; upper: number },
  truth: number,
): Fall {
  const bands = LEVELS.map(bandAt);
  const cuts = [...bands.map((band) => band.lower), bands[0]!.median, ...bands.map((band) => band.upper)];
  const { lower, upper } = bandAt(0.9);
  return { tenth: cuts.filter((cut) => cut < truth).length, held: truth >= lower && truth <= upper };
}
