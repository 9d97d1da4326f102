import { constantIn } from '../counts/population/constants.ts';
import { chanceOfAtLeast, type Distribution, quantile } from '../counts/population/mixture.ts';
import { type Band, outlookFrom } from '../counts/population/outlook.ts';
import { type PopulationSummary, stateAfter, summaryOf } from '../counts/population/population.ts';
import type { PopulationState } from '../counts/population/state.ts';
import { chanceOfAdults, type Shares, sharesOf } from './adults.ts';
import type { SurplusQuestion, SurplusSettings } from './form.ts';

/**
 * What keeps a culture from sparing (more). "health" is never answered here: whether a culture is in
 * quarantine or has mites stands in its diary, and whoever reads the diary sets it.
 */
export type Limit = 'count too old' | 'reserve' | 'adults' | 'promised' | 'health';

export interface Surplus {
  readonly spareAnimals: number;
  readonly spareGroups: number;
  /** How many animals must stay; not rounded. */
  readonly reserve: number;
  /** The steady harvest that logistic growth can replace at half the capacity, rK/4 (Schaefer 1954). */
  readonly sustainablePerWeek: Band;
  readonly readyOn: string | null;
  readonly limitedBy: Limit | null;
}

export interface SurplusOutlook {
  readonly surplus: Surplus;
  readonly population: PopulationSummary;
  /** How many animals could be promised if none were promised yet. */
  readonly promisable: number;
}

/**
 * What a culture can spare without falling below its reserve.
 *
 * reserve = the larger of reserve.animals and shareOfCapacity x the median capacity. spareAnimals = the
 * largest whole s with P(N - promised - s >= reserve) >= confidence. spareGroups = the largest k whose
 * animals are spare and for which P(adultShare x (N - promised) >= k x adults) >= confidence. readyOn = the
 * first week ahead with one group more than now, everything else left as it is.
 *
 * limitedBy, the first that holds: "adults" where they allow fewer groups than the animals do; "promised"
 * where at least one group more were spare without the promised animals; null where a group is spare;
 * "count too old" where the median N would leave a group, so that only the doubt stands in the way;
 * "reserve".
 *
 * Units: animals, weeks. Errors: as `population`.
 *
 * @example surplus(surplusInput.parse({ start: { date: '2026-01-05', animals: 100, sdLog: 0 }, profile: {
 *   growthPerWeek: { median: 0.1, sdLog: 0 }, capacity: { median: 100, sdLog: 0 }, processSd: 0 },
 *   asOf: '2026-01-05', reserve: { animals: 24, shareOfCapacity: 0.5 }, promised: 10, confidence: 0.9,
 *   group: { adults: 10, juveniles: 2 }, adultShare: { alpha: 60, beta: 40 } })).spareGroups // 40 spare: 3
 */
export function surplus(question: SurplusQuestion): Surplus {
  return surplusFrom(stateAfter(question), question).surplus;
}

export interface SurplusFromQuestion extends SurplusSettings {
  readonly asOf: string;
  readonly horizonWeeks: number;
  readonly level: number;
  readonly atLeast?: readonly number[];
}

/**
 * The surplus and the population of a state in one pass over the weeks ahead.
 *
 * Errors: CalculationError (path asOf) where the day is before the state's last event.
 */
export function surplusFrom(state: PopulationState, question: SurplusFromQuestion): SurplusOutlook {
  const { asOf, horizonWeeks, level, atLeast = [], promised } = question;
  const outlook = outlookFrom(state, asOf, horizonWeeks);
  const population = summaryOf(outlook, { level, atLeast });
  const reserve = reserveOf(question.reserve, population.capacity.median);
  const shares = sharesOf(question.adultShare);
  const spare = (number: Distribution, held: number) => spareOf(number, question, held, reserve, shares);
  const now = spare(outlook.now, promised);
  const free = spare(outlook.now, 0);
  const ready = outlook.weeks.find((week) => spare(week.number, promised).groups > now.groups);
  const yieldBand = constantIn(outlook.constants, { r: 1, k: 1 }, level);
  return {
    surplus: {
      spareAnimals: now.animals,
      spareGroups: now.groups,
      reserve,
      sustainablePerWeek: {
        median: yieldBand.median / 4,
        lower: yieldBand.lower / 4,
        upper: yieldBand.upper / 4,
      },
      readyOn: ready?.date ?? null,
      limitedBy: limitOf(now, free, population.now.median - promised - reserve, groupSize(question)),
    },
    population,
    promisable: free.animals,
  };
}

/** The larger of a number of animals and a share of the capacity. */
export function reserveOf(reserve: SurplusSettings['reserve'], capacity: number): number {
  return Math.max(reserve.animals, reserve.shareOfCapacity * capacity);
}

/**
 * P(N - removed - promised >= reserve) on a day: what would be left in a culture if so many animals were
 * taken out of it, with the reserve it is measured against.
 *
 * Errors: CalculationError (path asOf) where the day is before the state's last event.
 */
export function chanceAboveReserve(
  state: PopulationState,
  question: Pick<SurplusSettings, 'reserve'> & { asOf: string; removed: number; promised?: number },
): { probability: number; reserve: number } {
  const { now, constants } = outlookFrom(state, question.asOf, 0);
  const reserve = reserveOf(question.reserve, constantIn(constants, { r: 0, k: 1 }, 0.5).median);
  const wanted = reserve + question.removed + (question.promised ?? 0);
  return { probability: chanceOfAtLeast(now, wanted), reserve };
}

/** What a number of animals, known as far as it is, lets a culture spare. */
export interface Spare {
  animals: number;
  groups: number;
  /** Groups that the animals alone would allow. */
  byAnimals: number;
}

/** More than anyone sells; keeps a number that ran away from being searched. */
const MOST_GROUPS = 1e9;

function groupSize({ group }: Pick<SurplusSettings, 'group'>): number {
  return group.adults + group.juveniles;
}

export function spareOf(
  number: Distribution,
  settings: SurplusSettings,
  promised: number,
  reserve: number,
  shares: Shares,
): Spare {
  const sure = quantile(number, 1 - settings.confidence);
  // A number known exactly has a hair's breadth of spread (1e-5), which must not cost an animal.
  const animals = Math.max(0, Math.floor(sure * (1 + 2e-5) - promised - reserve));
  const byAnimals = Math.min(MOST_GROUPS, Math.floor(animals / groupSize(settings)));
  let enough = 0;
  let tooMany = byAnimals + 1;
  while (tooMany - enough > 1) {
    const k = Math.floor((enough + tooMany) / 2);
    const chance = chanceOfAdults(number, shares, promised, k * settings.group.adults);
    if (chance >= settings.confidence) enough = k;
    else tooMany = k;
  }
  return { animals, groups: enough, byAnimals };
}

function limitOf(now: Spare, free: Spare, medianAbove: number, size: number): Limit | null {
  if (now.groups < now.byAnimals) return 'adults';
  if (free.groups > now.groups) return 'promised';
  if (now.groups >= 1) return null;
  return medianAbove >= size ? 'count too old' : 'reserve';
}
