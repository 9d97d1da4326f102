import { expect, it } from 'vitest';
import { sayPicks } from '../../views/orders/say-cups.ts';
import { sayTotal } from '../../views/orders/say-total.ts';

const pick = {
  key: 'k',
  code: 'EX-4',
  place: null,
  line: null,
  scientificName: 'Exemplum numerus',
  commonName: '',
  groups: 3,
  animals: 42,
  groupAdults: 10,
  groupJuveniles: 2,
  groupExtras: 2,
  separateLines: false,
  blocked: null,
  caution: null,
};

it('the animals of a pick are said as cups × what stands in one', () => {
  expect(sayPicks([pick, { ...pick, groups: 1, animals: 10, groupJuveniles: 0, groupExtras: 0 }])).toEqual([
    'EX-4: 3 cups × (10 adults + 2 juveniles + 2 extras = 14) = 42 animals.',
    'EX-4: 1 cup × (10 adults = 10) = 10 animals.',
  ]);
});

it('the total of an order is said as its lines and the postage', () => {
  const order = { number: 7, currency: 'EUR', postageMinor: 500, totalMinor: 3800 };
  const lines = [
    { groups: 2, priceMinor: 1250 },
    { groups: 1, priceMinor: 800 },
  ];
  expect(sayTotal({ ...order, lines }, 'en-GB')).toEqual([
    'For example order 7: 2 × €12.50 + 1 × €8.00 + €5.00 postage = €38.00.',
  ]);
  expect(sayTotal(null)).toEqual([]);
});
