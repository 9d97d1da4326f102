import type { SpeciesNumbers } from './profile.ts';

export const animalGroups = [
  'isopod',
  'springtail',
  'pseudoscorpion',
  'roach',
  'beetle',
  'millipede',
  'mantid',
  'fly',
  'other',
] as const;
export type AnimalGroup = (typeof animalGroups)[number];

/** The headings of a care text, in the order a beginner needs them. */
export const careHeadings = [
  'enclosure',
  'substrate',
  'water',
  'food',
  'breeding',
  'temperature',
  'normal',
  'not-normal',
] as const;
export type CareHeading = (typeof careHeadings)[number];
export type CareText = Record<CareHeading, string>;

export const careHeadingWords: Record<CareHeading, string> = {
  enclosure: 'Enclosure',
  substrate: 'Substrate',
  water: 'Water',
  food: 'Food',
  breeding: 'Breeding',
  temperature: 'Temperature',
  normal: 'This is normal',
  'not-normal': 'This is not normal',
};

/** Six temperatures in rising order: outside the lethal ones animals die, outside the safe ones they suffer. */
export type TemperatureLimits = {
  lethalLowC: number;
  safeLowC: number;
  idealLowC: number;
  idealHighC: number;
  safeHighC: number;
  lethalHighC: number;
};

/** Everything a species has a number for. Prices are in minor units of the business's currency. */
export type SpeciesFigures = SpeciesNumbers &
  TemperatureLimits & {
    sellable: boolean;
    priceMinor: number;
    femaleShare: number;
    startMales: number;
    startFemales: number;
    generationDays: number;
    effectiveRatio: number;
    checkEveryDays: number;
    feedEveryDays: number;
    /** Months after which old substrate is renewed; null: never. */
    substrateMonths: number | null;
  };

export type SpeciesNames = { scientificName: string; commonName: string; animalGroup: AnimalGroup };

/** One layer of the substrate, and what a loose mix of it is made of by volume. */
export type SubstrateLayer = {
  name: string;
  depthMm: number;
  parts: { material: string; parts: number; settling: number }[];
};

/** Females alone keep the colony going, and no male is asked for. */
export function isParthenogenetic(species: Pick<SpeciesFigures, 'femaleShare' | 'startMales'>): boolean {
  return species.femaleShare === 1 && species.startMales === 0;
}
