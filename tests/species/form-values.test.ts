import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readForm } from '../../server/plumbing/forms.ts';
import type { SpeciesFigures } from '../../shared/species/columns.ts';
import { defaultsFor } from '../../shared/species/defaults.ts';
import { speciesForm } from '../../shared/species/form.ts';
import {
  type FormUnits,
  type SpeciesRecord,
  speciesFormFaults,
  speciesFormValues,
  speciesFromForm,
} from '../../shared/species/form-values.ts';

const care = {
  enclosure: 'A box.',
  substrate: 'Soil.',
  water: '',
  food: 'Leaves.',
  breeding: '',
  temperature: '',
  normal: '',
  'not-normal': '',
};
const isopod: SpeciesRecord = {
  scientificName: 'Exemplum fictum',
  commonName: 'example isopod',
  animalGroup: 'isopod',
  homeEnclosureId: 3,
  cautions: 'Never release them.',
  figures: { ...defaultsFor('isopod'), priceMinor: 1250 },
  care,
};
const metric: FormUnits = { units: 'metric', currency: 'EUR' };
const us: FormUnits = { units: 'us', currency: 'USD' };

function sent(values: Record<string, string>, changes: Record<string, string | undefined> = {}) {
  return readForm(speciesForm('EUR'), { ...values, ...changes });
}

function saved(record: SpeciesRecord, units: FormUnits, changes: Record<string, string | undefined> = {}) {
  const read = sent(speciesFormValues(record, units), changes);
  if (!read.ok) throw new Error(JSON.stringify(read.form.errors));
  expect(speciesFormFaults(read.data)).toEqual({});
  return speciesFromForm(read.data, units, record.figures);
}

function faults(changes: Record<string, string | undefined>) {
  const read = sent(speciesFormValues(isopod, metric), changes);
  return read.ok ? speciesFormFaults(read.data) : read.form.errors;
}

describe('the form of a species', () => {
  it('shows figures as people say them', () => {
    expect(speciesFormValues(isopod, metric)).toMatchObject({
      price: '12.50',
      sellable: 'yes',
      reservePercent: '50',
      confidencePercent: '90',
      doublingWeeks: '7.7', // ln 2 / 0.09 a week
      growthFactor: '2.28', // exp(0.5 x 1.645)
      capacity: '20',
      detectionShow: '6',
      detectionOf: '20',
      femalePercent: '50',
      idealHigh: '25',
      'care-food': 'Leaves.',
    });
    expect(speciesFormValues(isopod, us)).toMatchObject({ idealHigh: '77', capacity: '18.93' });
    expect(speciesFormValues(isopod, metric).parthenogenetic).toBeUndefined();
  });

  it.each([
    ['metric', metric],
    ['us', us],
  ])('saved unchanged in %s units moves nothing', (_name, units) => {
    let record = isopod;
    for (let times = 0; times < 3; times += 1) record = saved(record, units);
    expect(record).toEqual(isopod);
  });

  it('moves nothing for any figures the database can hold', () => {
    const odd = fc.double({ min: 0.01, max: 3, noNaN: true });
    const figures = fc
      .record({
        growthPerWeekMedian: odd,
        growthSdLog: odd,
        capacityPerLitreMedian: fc.double({ min: 0.5, max: 5000, noNaN: true }),
        capacitySdLog: odd,
        processSd: fc.double({ min: 0.001, max: 0.9, noNaN: true }),
        detectionAlpha: odd,
        detectionBeta: odd,
        femaleShare: fc.double({ min: 0.02, max: 0.98, noNaN: true }),
        effectiveRatio: fc.double({ min: 0.02, max: 1, noNaN: true }),
      })
      .map((some): SpeciesFigures => ({ ...isopod.figures, ...some }));
    fc.assert(
      fc.property(figures, fc.constantFrom(metric, us), (some, units) => {
        expect(saved({ ...isopod, figures: some }, units).figures).toEqual(some);
      }),
      { numRuns: 60, seed: 20261125 },
    );
  });

  it('stores what is typed anew in metric', () => {
    const record = saved(isopod, us, {
      idealHigh: '80',
      capacity: '10',
      doublingWeeks: '10',
      detectionOf: '40',
      detectionShow: '10',
    });
    expect(record.figures.idealHighC).toBeCloseTo(26.667, 3);
    expect(record.figures.capacityPerLitreMedian).toBeCloseTo(10.567, 3); // ten a quart of 0.946 litres
    expect(record.figures.growthPerWeekMedian).toBeCloseTo(Math.LN2 / 10, 12);
    expect(record.figures).toMatchObject({ detectionAlpha: 10, detectionBeta: 30, idealLowC: 20 });
  });

  it('asks no males of females that breed alone', () => {
    const { figures } = saved(isopod, metric, {
      parthenogenetic: 'yes',
      femalePercent: undefined,
      startMales: undefined,
    });
    expect(figures).toMatchObject({ femaleShare: 1, startMales: 0, startFemales: 2 });
    expect(speciesFormValues({ ...isopod, figures }, metric).parthenogenetic).toBe('yes');
    expect(saved({ ...isopod, figures }, metric).figures).toEqual(figures);
  });

  it.each([
    ['scientificName', 'Write the scientific name.', { scientificName: ' ' }],
    ['animalGroup', 'Choose the kind of animal.', { animalGroup: 'dragon' }],
    [
      'groupAdults',
      'A group needs at least one animal, adult or juvenile.',
      { groupAdults: '0', groupJuveniles: '0' },
    ],
    ['groupAdults', 'Write a whole number, such as 12.', { groupAdults: 'ten' }],
    ['confidencePercent', 'Must be more than 50.', { confidencePercent: '50' }],
    ['reservePercent', 'Must be between 0 and 100.', { reservePercent: '101' }],
    ['doublingWeeks', 'Must be more than 0.', { doublingWeeks: '0' }],
    ['growthFactor', 'Must be between 1 and 1000.', { growthFactor: '0.5' }],
    ['detectionShow', 'Must be fewer than the 20 they are out of.', { detectionShow: '20' }],
    ['femalePercent', 'Fill this in, or tick that females need no males.', { femalePercent: undefined }],
    ['startMales', 'Where all are female there are no males to ask for: put 0.', { femalePercent: '100' }],
    ['startFemales', 'Where all are male there are no females to ask for: put 0.', { femalePercent: '0' }],
    ['idealLow', 'Must not be colder than the limit before it.', { safeLow: '21' }],
    ['checkEveryDays', 'Must be between 1 and 365.', { checkEveryDays: '400' }],
    ['price', 'Write an amount, such as 12.50, without the currency.', { price: 'cheap' }],
    ['care-food', 'This is too long: 4000 characters at most.', { 'care-food': 'x'.repeat(4001) }],
  ])('says of %s: %s', (field, message, changes) => {
    expect(faults(changes)).toMatchObject({ [field]: message });
  });

  it('takes a species without a price, a home or a common name', () => {
    const record = saved(isopod, metric, {
      price: undefined,
      homeEnclosureId: undefined,
      commonName: undefined,
    });
    expect(record).toMatchObject({ homeEnclosureId: null, commonName: '', figures: { priceMinor: 0 } });
  });
});
