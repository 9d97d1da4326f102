import type { AnimalGroup, SpeciesFigures } from './columns.ts';

/**
 * Animals a litre of substrate holds, by the size of the species: very roughly, as an upper end.
 * Common practice, no source.
 */
export const capacityPerLitreBySize = { small: 40, medium: 20, large: 8 } as const;

const inMostGroups: SpeciesFigures = {
  sellable: true,
  groupAdults: 10,
  groupJuveniles: 2,
  groupExtras: 2,
  priceMinor: 0,
  growthPerWeekMedian: 0.09,
  growthSdLog: 0.5,
  capacityPerLitreMedian: capacityPerLitreBySize.medium,
  capacitySdLog: 0.5,
  processSd: 0.06,
  detectionAlpha: 6,
  detectionBeta: 14,
  adultAlpha: 8,
  adultBeta: 12,
  reserveAnimals: 24,
  reserveShare: 0.5,
  confidence: 0.9,
  femaleShare: 0.5,
  startMales: 2,
  startFemales: 2,
  generationDays: 120,
  effectiveRatio: 0.5,
  checkEveryDays: 7,
  feedEveryDays: 7,
  lethalLowC: 2,
  safeLowC: 10,
  idealLowC: 20,
  idealHighC: 25,
  safeHighC: 29,
  lethalHighC: 35,
};

const differing: Record<AnimalGroup, Partial<SpeciesFigures>> = {
  isopod: { lethalLowC: 0, safeLowC: 8, lethalHighC: 36 },
  springtail: {
    groupAdults: 50,
    groupJuveniles: 0,
    groupExtras: 10,
    growthPerWeekMedian: 0.35,
    capacityPerLitreMedian: 1500,
    detectionAlpha: 3,
    detectionBeta: 17,
    adultAlpha: 10,
    adultBeta: 10,
    reserveAnimals: 200,
    femaleShare: 1,
    startMales: 0,
    generationDays: 24,
    lethalLowC: 0,
    safeLowC: 5,
    idealLowC: 18,
    idealHighC: 24,
    safeHighC: 28,
    lethalHighC: 33,
  },
  pseudoscorpion: {
    groupAdults: 8,
    groupJuveniles: 2,
    groupExtras: 1,
    growthPerWeekMedian: 0.05,
    capacityPerLitreMedian: capacityPerLitreBySize.small,
    detectionAlpha: 5,
    detectionBeta: 15,
    reserveAnimals: 16,
    generationDays: 270,
    lethalLowC: 0,
    safeLowC: 8,
    idealLowC: 18,
    lethalHighC: 36,
  },
  roach: {
    growthPerWeekMedian: 0.07,
    capacityPerLitreMedian: capacityPerLitreBySize.small,
    detectionAlpha: 8,
    detectionBeta: 12,
    adultAlpha: 6,
    adultBeta: 14,
    generationDays: 180,
    lethalLowC: 5,
    safeLowC: 14,
    idealLowC: 26,
    idealHighC: 31,
    safeHighC: 35,
    lethalHighC: 41,
  },
  beetle: {
    groupAdults: 0,
    groupJuveniles: 10,
    groupExtras: 1,
    growthPerWeekMedian: 0.07,
    capacityPerLitreMedian: capacityPerLitreBySize.large,
    detectionAlpha: 4,
    detectionBeta: 16,
    adultAlpha: 5,
    adultBeta: 15,
    reserveAnimals: 16,
    generationDays: 180,
    lethalLowC: 5,
    safeLowC: 14,
    idealLowC: 22,
    idealHighC: 27,
    safeHighC: 31,
    lethalHighC: 37,
  },
  millipede: {
    groupAdults: 4,
    groupJuveniles: 2,
    groupExtras: 0,
    growthPerWeekMedian: 0.035,
    capacityPerLitreMedian: 2,
    reserveAnimals: 12,
    startMales: 1,
    startFemales: 1,
    generationDays: 540,
    lethalLowC: 5,
    safeLowC: 14,
  },
  mantid: {
    groupAdults: 0,
    groupJuveniles: 6,
    groupExtras: 1,
    growthPerWeekMedian: 0.06,
    capacityPerLitreMedian: 1,
    adultAlpha: 3,
    adultBeta: 17,
    reserveAnimals: 12,
    startMales: 1,
    startFemales: 1,
    generationDays: 240,
    checkEveryDays: 2,
    feedEveryDays: 2,
    lethalLowC: 5,
    safeLowC: 14,
    idealLowC: 22,
    idealHighC: 27,
  },
  fly: {
    sellable: false,
    groupAdults: 50,
    groupJuveniles: 0,
    groupExtras: 0,
    growthPerWeekMedian: 0.6,
    capacityPerLitreMedian: 1500,
    processSd: 0.15,
    detectionAlpha: 10,
    detectionBeta: 10,
    adultAlpha: 10,
    adultBeta: 10,
    reserveAnimals: 50,
    generationDays: 24,
    checkEveryDays: 3,
    lethalLowC: 4,
    safeLowC: 12,
    lethalHighC: 34,
  },
  other: {},
};

/**
 * Answers: which figures a new species of an animal group begins with, until the owner puts in their own.
 * Common practice, no source: round figures as many keepers state them, chosen to be careful rather than exact (a
 * wide doubt on growth and capacity, half the capacity kept back). They are beliefs to begin with: counts soon
 * outweigh them. A price is nobody's common practice: it begins at nothing.
 * Units: growth per week, animals a litre of substrate, days, degrees Celsius, minor units of money.
 *
 * @example defaultsFor('isopod').capacityPerLitreMedian // 20
 */
export function defaultsFor(group: AnimalGroup): SpeciesFigures {
  return { ...inMostGroups, ...differing[group] };
}

/** How the page marks such a figure. */
export const commonPracticeWords = 'Common practice, change to yours.';
