import type {
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

export const springtail: PackingSpecies = {
  scientificName: 'Folsomia candida',
  commonName: 'white springtail',
  limits: { lethalLowC: -4, safeLowC: 4, idealLowC: 16, idealHighC: 24, safeHighC: 28, lethalHighC: 34 },
  cautions: [],
};

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
