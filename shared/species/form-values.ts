import { writeMoney } from '../orders/money.ts';
import { minorDigits } from '../settings/typed-money.ts';
import {
  type FieldUnit,
  fieldUnitsOf,
  keptUnlessChanged,
  shownInField,
  shownNumber,
  storedFromField,
} from '../settings/typed-units.ts';
import type { UnitSystem } from '../settings/units.ts';
import {
  type AnimalGroup,
  type CareText,
  careHeadings,
  isParthenogenetic,
  type SpeciesFigures,
  type TemperatureLimits,
} from './columns.ts';
import { careField, type SpeciesForm } from './form.ts';

/** A species as the form edits it. */
export type SpeciesRecord = {
  scientificName: string;
  commonName: string;
  animalGroup: AnimalGroup;
  homeEnclosureId: number | null;
  cautions: string;
  figures: SpeciesFigures;
  care: CareText;
};

export type FormUnits = { units: UnitSystem; currency: string };

type Conversion = { shown: (stored: number) => string; stored: (typed: number) => number };

/** Nine times in ten a log-normal value lies within this many standard deviations of its logarithm. */
const NINE_IN_TEN = 1.6448536269514722;

const percent: Conversion = { shown: (n) => shownNumber(n * 100, 2), stored: (n) => n / 100 };
const timesOrDivided: Conversion = {
  shown: (sdLog) => shownNumber(Math.exp(sdLog * NINE_IN_TEN), 2),
  stored: (factor) => Math.log(factor) / NINE_IN_TEN,
};
const doubling: Conversion = {
  shown: (perWeek) => shownNumber(Math.LN2 / perWeek, 2),
  stored: (weeks) => Math.LN2 / weeks,
};
const inUnit = (unit: FieldUnit): Conversion => ({
  shown: (n) => shownInField(n, unit),
  stored: (n) => storedFromField(n, unit),
});

type Column = Exclude<keyof SpeciesFigures, 'sellable' | 'priceMinor' | 'substrateMonths'>;
type Converted = readonly [field: keyof SpeciesForm, column: Column, conversion: Conversion];

/** Fields that show their column in another way than it is stored. */
function convertedFields(units: UnitSystem): readonly Converted[] {
  const { temp, density } = fieldUnitsOf(units);
  const degrees = inUnit(temp);
  return [
    ['reservePercent', 'reserveShare', percent],
    ['confidencePercent', 'confidence', percent],
    ['doublingWeeks', 'growthPerWeekMedian', doubling],
    ['growthFactor', 'growthSdLog', timesOrDivided],
    ['capacity', 'capacityPerLitreMedian', inUnit(density)],
    ['capacityFactor', 'capacitySdLog', timesOrDivided],
    ['processPercent', 'processSd', percent],
    ['femalePercent', 'femaleShare', percent],
    ['effectivePercent', 'effectiveRatio', percent],
    ['lethalLow', 'lethalLowC', degrees],
    ['safeLow', 'safeLowC', degrees],
    ['idealLow', 'idealLowC', degrees],
    ['idealHigh', 'idealHighC', degrees],
    ['safeHigh', 'safeHighC', degrees],
    ['lethalHigh', 'lethalHighC', degrees],
  ];
}

/** Fields that are stored as they are typed. */
const wholeFields = [
  'groupAdults',
  'groupJuveniles',
  'groupExtras',
  'reserveAnimals',
  'startMales',
  'startFemales',
  'generationDays',
  'checkEveryDays',
  'feedEveryDays',
] as const;

/** "Of 20 animals about 6 show" is Beta(6, 14): as much belief as having looked twenty times. */
const sharesOfSoMany = [
  ['detectionShow', 'detectionOf', 'detectionAlpha', 'detectionBeta'],
  ['adultAre', 'adultOf', 'adultAlpha', 'adultBeta'],
] as const;

/**
 * What the fields of the form show for a species: metric or US, shares in percent, growth as weeks to double.
 *
 * @example speciesFormValues(isopod, { units: 'us', currency: 'USD' }).idealHigh // '77' for 25 °C
 */
export function speciesFormValues(species: SpeciesRecord, { units, currency }: FormUnits) {
  const { figures } = species;
  const values: Record<string, string> = {
    scientificName: species.scientificName,
    commonName: species.commonName,
    animalGroup: species.animalGroup,
    cautions: species.cautions,
    price: figures.priceMinor === 0 ? '' : writeMoney(figures.priceMinor, minorDigits(currency)),
    homeEnclosureId: species.homeEnclosureId === null ? '' : String(species.homeEnclosureId),
  };
  if (figures.sellable) values.sellable = 'yes';
  if (isParthenogenetic(figures)) values.parthenogenetic = 'yes';
  for (const name of wholeFields) values[name] = String(figures[name]);
  values.substrateMonths = figures.substrateMonths === null ? '' : String(figures.substrateMonths);
  for (const [field, column, { shown }] of convertedFields(units)) values[field] = shown(figures[column]);
  for (const [part, whole, alpha, beta] of sharesOfSoMany) {
    values[part] = shownNumber(figures[alpha], 2);
    values[whole] = shownNumber(figures[alpha] + figures[beta], 2);
  }
  for (const heading of careHeadings) values[careField(heading)] = species.care[heading];
  return values;
}

const limitFields: readonly (readonly [keyof SpeciesForm, keyof TemperatureLimits])[] = [
  ['lethalLow', 'lethalLowC'],
  ['safeLow', 'safeLowC'],
  ['idealLow', 'idealLowC'],
  ['idealHigh', 'idealHighC'],
  ['safeHigh', 'safeHighC'],
  ['lethalHigh', 'lethalHighC'],
];

/** What does not fit together in a form whose fields are each in order, by field name. */
export function speciesFormFaults(form: SpeciesForm): Record<string, string> {
  const faults: Record<string, string> = {};
  if (form.groupAdults + form.groupJuveniles === 0)
    faults.groupAdults = 'A group needs at least one animal, adult or juvenile.';
  for (const [part, whole] of sharesOfSoMany) {
    if (form[part] >= form[whole]) faults[part] = `Must be fewer than the ${form[whole]} they are out of.`;
  }
  if (!form.parthenogenetic) {
    if (form.femalePercent === undefined)
      faults.femalePercent = 'Fill this in, or tick that females need no males.';
    if (form.startMales === undefined)
      faults.startMales = 'Fill this in, or tick that females need no males.';
    if (form.femalePercent === 100 && (form.startMales ?? 0) > 0)
      faults.startMales = 'Where all are female there are no males to ask for: put 0.';
    if (form.femalePercent === 0 && form.startFemales > 0)
      faults.startFemales = 'Where all are male there are no females to ask for: put 0.';
  }
  for (const [i, [field]] of limitFields.entries()) {
    const colder = limitFields[i - 1]?.[0];
    if (colder && Number(form[field]) < Number(form[colder]))
      faults[field] = 'Must not be colder than the limit before it.';
  }
  return faults;
}

/**
 * The species a form describes, in stored units. What still says what it showed for `before` keeps its value to the
 * last digit.
 */
export function speciesFromForm(
  form: SpeciesForm,
  { units }: FormUnits,
  before: SpeciesFigures | null,
): SpeciesRecord {
  const figures: Record<string, number> = {};
  for (const name of wholeFields) figures[name] = form[name] ?? 0;
  for (const [field, column, { shown, stored }] of convertedFields(units)) {
    const typed = Number(form[field] ?? 0);
    figures[column] = keptUnlessChanged(typed, before?.[column] ?? null, shown, stored);
  }
  for (const [part, whole, alpha, beta] of sharesOfSoMany) {
    const unchanged =
      before &&
      Number(shownNumber(before[alpha], 2)) === form[part] &&
      Number(shownNumber(before[alpha] + before[beta], 2)) === form[whole];
    figures[alpha] = unchanged ? before[alpha] : form[part];
    figures[beta] = unchanged ? before[beta] : form[whole] - form[part];
  }
  if (form.parthenogenetic) Object.assign(figures, { femaleShare: 1, startMales: 0 });
  return {
    scientificName: form.scientificName,
    commonName: form.commonName,
    animalGroup: form.animalGroup,
    homeEnclosureId: form.homeEnclosureId ?? null,
    cautions: form.cautions,
    figures: {
      ...(figures as Record<Column, number>),
      sellable: form.sellable,
      priceMinor: form.price,
      substrateMonths: form.substrateMonths ?? null,
    },
    care: Object.fromEntries(careHeadings.map((heading) => [heading, form[careField(heading)]])) as CareText,
  };
}
