import { z } from 'zod';
import { moneyField } from '../orders/money.ts';
import { ticked, typedNumber } from '../settings/typed-number.ts';
import { neededLine, optionalLine, optionalLines } from '../text.ts';
import { animalGroups, careHeadings } from './columns.ts';

const animals = typedNumber({ whole: true, min: 0, max: 100_000 });
const days = typedNumber({ whole: true, min: 1, max: 365 });
/** Wide enough for either scale; what is in order among the six is seen to once they are all numbers. */
const temperature = typedNumber({ min: -60, max: 160 });
/** So many times more or less. */
const factor = typedNumber({ min: 1, max: 1000 });
const ofSoMany = typedNumber({ above: 0, max: 10_000 });

/** The field of a heading of the care text: 'care-not-normal'. */
export const careField = (heading: (typeof careHeadings)[number]) => `care-${heading}` as const;

const careFields = Object.fromEntries(
  careHeadings.map((heading) => [careField(heading), optionalLines(4000)]),
) as Record<ReturnType<typeof careField>, ReturnType<typeof optionalLines>>;

/** The form of a species, in the units of the page; the layers are read by themselves (see form-layers.ts). */
export function speciesForm(currency: string) {
  return z.object({
    scientificName: neededLine(120, 'Write the scientific name.'),
    commonName: optionalLine(120),
    animalGroup: z.enum(animalGroups, { error: 'Choose the kind of animal.' }),
    sellable: ticked,
    groupAdults: animals,
    groupJuveniles: animals,
    groupExtras: animals,
    price: moneyField(currency).prefault('0'),
    reserveAnimals: animals,
    reservePercent: typedNumber({ min: 0, max: 100 }),
    confidencePercent: typedNumber({ above: 50, below: 100 }),
    doublingWeeks: typedNumber({ above: 0, max: 1000 }),
    growthFactor: factor,
    capacity: typedNumber({ above: 0, max: 1_000_000 }),
    capacityFactor: factor,
    processPercent: typedNumber({ above: 0, max: 100 }),
    detectionShow: ofSoMany,
    detectionOf: ofSoMany,
    adultAre: ofSoMany,
    adultOf: ofSoMany,
    parthenogenetic: ticked,
    femalePercent: typedNumber({ min: 0, max: 100 }).optional(),
    startMales: typedNumber({ whole: true, min: 0, max: 1000 }).optional(),
    startFemales: typedNumber({ whole: true, min: 0, max: 1000 }),
    generationDays: typedNumber({ whole: true, min: 1, max: 10_000 }),
    effectivePercent: typedNumber({ above: 0, max: 100 }),
    checkEveryDays: days,
    feedEveryDays: days,
    substrateMonths: typedNumber({ whole: true, min: 1, max: 120 }).optional(),
    lethalLow: temperature,
    safeLow: temperature,
    idealLow: temperature,
    idealHigh: temperature,
    safeHigh: temperature,
    lethalHigh: temperature,
    homeEnclosureId: typedNumber({ whole: true, min: 1 }).optional(),
    cautions: optionalLines(4000),
    ...careFields,
  });
}

export type SpeciesForm = z.output<ReturnType<typeof speciesForm>>;

/** What the fields are called, for messages away from their field. */
export const speciesFieldWords: Record<string, string> = {
  scientificName: 'Scientific name',
  commonName: 'Common name',
  animalGroup: 'Kind of animal',
  groupAdults: 'Adults in a group',
  groupJuveniles: 'Juveniles in a group',
  groupExtras: 'Extras for losses',
  price: 'Price',
  reserveAnimals: 'Animals that stay',
  reservePercent: 'Share of the capacity that stays',
  confidencePercent: 'How sure',
  doublingWeeks: 'Weeks to double',
  growthFactor: 'Doubt of the growth',
  capacity: 'Capacity',
  capacityFactor: 'Doubt of the capacity',
  processPercent: 'Ups and downs',
  detectionShow: 'Animals that show',
  detectionOf: 'Of so many',
  adultAre: 'Animals that are adult',
  adultOf: 'Of so many',
  femalePercent: 'Females',
  startMales: 'Males a start needs',
  startFemales: 'Females a start needs',
  generationDays: 'Generation',
  effectivePercent: 'Animals that breed',
  checkEveryDays: 'Check every',
  feedEveryDays: 'Feed every',
  substrateMonths: 'Substrate renewed every',
  lethalLow: 'Deadly below',
  safeLow: 'Safe from',
  idealLow: 'Best from',
  idealHigh: 'Best up to',
  safeHigh: 'Safe up to',
  lethalHigh: 'Deadly above',
  homeEnclosureId: 'Home for the customer',
  cautions: 'Cautions',
};
