import { parcelWeight } from '../../shared/documents/parcel-weight.ts';
import { standCups } from '../../shared/documents/stand-cups.ts';
import type { Scenario } from '../../shared/parcels/parcel-options-form.ts';
import type { PackingCurve, PackingParcel } from '../../views/documents/packing-parcel-data.ts';
import type {
  PackingCups,
  PackingPick,
  PackingSheetData,
  PackingSpecies,
} from '../../views/documents/packing-sheet-data.ts';
import type { PrintOptions } from '../../views/documents/print-options.ts';

/** An invented business and invented people; addresses at example.org only. */
export const options: PrintOptions = {
  paper: 'A4',
  units: 'metric',
  language: 'en',
  locale: 'en-GB',
  businessName: 'Fernhollow Invertebrates',
  printedOn: '2026-11-10',
  createdAt: Date.UTC(2026, 10, 10, 7, 30),
};

export const scaber: PackingSpecies = {
  scientificName: 'Porcellio scaber',
  commonName: 'rough woodlouse',
  limits: { lethalLowC: -2, safeLowC: 5, idealLowC: 18, idealHighC: 25, safeHighC: 30, lethalHighC: 37 },
  cautions: ['Moist moss on one side of the cup, not all over: they drown in a wet cup.'],
};

export const cubaris: PackingSpecies = {
  scientificName: 'Cubaris murina',
  commonName: 'little sea isopod',
  limits: { lethalLowC: 5, safeLowC: 12, idealLowC: 22, idealHighC: 27, safeHighC: 30, lethalHighC: 36 },
  cautions: ['Never leave a cup in the sun.', 'Shed skins can trigger allergies: wear gloves.'],
};

const springtail: PackingSpecies = {
  scientificName: 'Folsomia candida',
  commonName: 'white springtail',
  limits: { lethalLowC: -4, safeLowC: 4, idealLowC: 16, idealHighC: 24, safeHighC: 28, lethalHighC: 34 },
  cautions: [],
};

const curve = (scenario: Scenario, shift: number): PackingCurve => ({
  scenario,
  points: Array.from({ length: 53 }, (_each, hour) => ({
    hour,
    insideC: 14 + shift + 6 * Math.exp(-hour / 20) + 1.5 * Math.sin(hour / 4),
    outsideC: 7 + shift + 4 * Math.sin(hour / 4),
  })),
});

/** A parcel with a heat pack that fits, held at the counter, in every scenario. */
const parcel: PackingParcel = {
  boxName: 'Foam-lined, small',
  carrier: 'Overnight Post',
  inside: { lengthMm: 300, widthMm: 200, heightMm: 160 },
  standing: standCups({ lengthMm: 300, widthMm: 200, heightMm: 160 }, [
    { name: 'Round cup', lengthMm: 90, widthMm: 90, heightMm: 60, count: 4 },
  ]),
  pack: {
    name: 'Heat pack, 40 hours',
    effect: 'warms',
    count: 1,
    place: { ok: true, freeMm: 100 },
    startAt: '15:00, 1 h before the parcel leaves',
    warmUpHours: 1,
  },
  isHeld: true,
  transitHours: 28,
  otherDay: null,
  weather: [
    {
      role: 'origin',
      place: 'Millbrook',
      source: 'own thermometer',
      read: 'read 10 Nov 2026, 06:30, 1 hour before',
    },
    { role: 'destination', place: 'Lower Wending', source: '', read: null },
  ],
  limits: { safeLowC: 12, safeHighC: 28 },
  curves: [curve('forecast', 0), curve('colder', -2), curve('warmer', 2), curve('late', -0.8)],
  hoursBelowSafe: 6.4,
  hoursAboveSafe: 0,
  override: {
    what: 'The parcel goes out although it may get too cold',
    reason: 'the customer collects at noon',
    byName: 'Ada Quill',
    on: '2026-11-10',
  },
  chosen: 'Ada Quill, 10 Nov 2026, 07:10',
};

const usual = (said: string) => ({ words: said, isUsual: true });

function cupsOf({ scientificName, commonName }: PackingSpecies, count: number, animals: number): PackingCups {
  return {
    scientificName,
    commonName,
    count,
    cupName: '',
    animals,
    ventilation: usual('A few pin holes in the lid.'),
    padding: usual('Moist, not wet, moss up to the lid.'),
  };
}

export function pick(given: Partial<PackingPick> = {}): PackingPick {
  return {
    cultureCode: 'PSC-014',
    place: 'Rack B, shelf 3, place 4',
    line: 'Dalmatian 2',
    scientificName: scaber.scientificName,
    commonName: scaber.commonName,
    groups: 2,
    perGroup: { adults: 10, juveniles: 2, extras: 1 },
    cups: 2,
    cupLabel: 'Porcellio scaber, PSC-014, 10 + 2',
    note: '',
    ...given,
  };
}

export const order: PackingSheetData = {
  orderNumber: '2026-0147',
  orderUrl: 'https://fernhollow.example.org/orders/147',
  dispatchOn: '2026-11-11',
  dispatchBy: '16:00',
  customerName: 'Mara Ilvane',
  addressLines: ['Flat 3, 12 Alder Row', 'Millbrook', 'XX1 4AB'],
  note: 'Leave at the counter if nobody is in; the customer collects after 17:00.',
  picks: [
    pick({
      cultureCode: 'CMU-003',
      place: 'Rack A, shelf 1, place 2',
      line: '',
      scientificName: cubaris.scientificName,
      commonName: cubaris.commonName,
      groups: 1,
      cups: 1,
      cupLabel: 'Cubaris murina, CMU-003, 10 + 2',
    }),
    pick(),
    pick({
      cultureCode: 'FCA-020',
      place: 'Rack D, shelf 2, place 9',
      line: '',
      scientificName: springtail.scientificName,
      commonName: springtail.commonName,
      groups: 3,
      perGroup: { adults: 100, juveniles: 0, extras: 0 },
      cups: 1,
      cupLabel: 'Folsomia candida, FCA-020, about 300',
      note: 'Tap onto charcoal, do not pour.',
    }),
  ],
  species: [cubaris, scaber, springtail],
  overrides: [
    {
      what: 'CMU-003 takes 2 animals from the reserve',
      reason: 'replaces the group that was lost on the way in October',
      byName: 'Ada Quill',
      on: '2026-11-09',
    },
  ],
  parcel,
  cups: [
    cupsOf(cubaris, 1, 13),
    { ...cupsOf(scaber, 2, 26), cupName: 'Round cup', padding: { words: 'Leaf litter.', isUsual: false } },
    cupsOf(springtail, 1, 300),
  ],
  rules: [
    {
      kind: 'permit',
      name: 'Springtails out of the county',
      words: 'The paper goes on the box.',
      species: ['Folsomia candida'],
      source: 'county office, read 2 Nov 2026',
      number: 'EX-2026/77',
      expiresOn: '2027-03-31',
    },
    {
      kind: 'warning',
      name: 'Isopods',
      words: 'Ask before they are sent there.',
      species: [],
      source: '',
      number: '',
      expiresOn: null,
    },
  ],
  weight: parcelWeight([
    { what: 'box', count: 1, eachG: 180 },
    { what: 'cups', count: 2, eachG: 8 },
    { what: 'animals', count: 339, eachG: null },
  ]),
  customs: {
    from: 'United Kingdom',
    to: 'Germany',
    contents: [
      { scientificName: 'Cubaris murina', commonName: 'little sea isopod', animals: 13, value: '£35.00' },
    ],
    value: '£35.00',
    heading: '',
  },
};

/** An order of 25 lines from eight shelves. */
export const largeOrder: PackingSheetData = {
  ...order,
  orderNumber: '2026-0148',
  customerName: 'Terrarium Society of Lower Wending',
  overrides: [],
  note: '',
  picks: Array.from({ length: 25 }, (_each, index) =>
    pick({
      cultureCode: `PSC-${String(index + 101)}`,
      place: `Rack ${'ABCDEFGH'[index % 8]}, shelf ${1 + (index % 5)}, place ${1 + index}`,
      groups: 1 + (index % 4),
      cups: 1 + (index % 4),
    }),
  ),
  species: [scaber],
};
