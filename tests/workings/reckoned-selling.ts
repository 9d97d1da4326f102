import { all, number, one, type Reckoning } from './reckoning.ts';

/** Orders, parcels and invoices. */
export const ofSending: Reckoning[] = [
  {
    what: 'heat capacity of a parcel, in J/K',
    page: '/parcels/orders/2',
    source: 'mass × specific heat: Incropera and DeWitt, chapter 5 (from memory)',
    said: one(/= ([\d,]+) J\/K/),
    again: (text) => {
      const [kg = 0, each = 0] = all(text, /In it ([\d.]+) kg × ([\d,]+) J/);
      return kg * each;
    },
    within: 0.5,
  },
  {
    what: 'minutes until half of the difference to the outside is gone',
    page: '/parcels/orders/2',
    source: 'exponential fall with time constant C ÷ UA: Incropera and DeWitt, chapter 5 (from memory)',
    said: one(/÷ 60 = ([\d.]+) minutes/),
    again: (text) => {
      const [watts = 0] = all(text, /lets through ([\d.]+) W\/K/);
      const [kg = 0, each = 0] = all(text, /In it ([\d.]+) kg × ([\d,]+) J/);
      return (Math.log(2) * kg * each) / watts / 60;
    },
    within: 0.6,
  },
  {
    what: 'the lowest that a parcel of the packing day gets inside',
    page: '/parcels/packing',
    source: 'the least of the four weathers',
    said: one(/inside (-?[\d.]+) to [\d.]+\s°C, all weathers/),
    again: (text) => {
      const [card = ''] = /Why so\?.*?<\/details>/s.exec(text) ?? [];
      return Math.min(...[...card.matchAll(/so inside (-?[\d.]+)\s/g)].map(([, low]) => number(low)));
    },
    within: 0,
  },
  {
    what: 'what the best way of a parcel costs',
    page: '/parcels/packing',
    source: 'box + packs + being held: addition',
    said: one(/box €[^=;]*= €([\d.]+)/),
    again: (text) => {
      const [, sum = ''] = /: (box €[^=;]*)=/.exec(text) ?? [];
      return sum.split(' + ').reduce((total, part) => {
        const packs = /(\d+) × /.exec(part)?.[1] ?? '1';
        return total + number(packs) * one(/€([\d.]+)/)(part);
      }, 0);
    },
    within: 0,
  },
  {
    what: 'what a box lets through by its wall, in W/K',
    page: '/parcels/stock',
    source: 'films and wall in series: Incropera and DeWitt, section 3.1 (from memory)',
    said: one(/Lets through">([\d.]+)\sW\/K/),
    again: (text) => {
      const cm = all(text, /Inside">([\d.]+)\scm × ([\d.]+)\scm × ([\d.]+)\scm/);
      const [inner = 1, wallM = 1, wattsPerMK = 1, outer = 1] = all(
        text,
        /1 ÷ ([\d.]+) \+ ([\d.]+) ÷ ([\d.]+) \+ 1 ÷ ([\d.]+) =/,
      );
      const surface = (more: number) => {
        const [a = 0, b = 0, c = 0] = cm.map((side) => side / 100 + more);
        return 2 * (a * b + a * c + b * c);
      };
      return (surface(0) + surface(2 * wallM)) / 2 / (1 / inner + wallM / wattsPerMK + 1 / outer);
    },
    within: 0.0005,
  },
  {
    what: 'what a box lets through by its cooling, in W/K',
    page: '/parcels/boxes/1/logs/1',
    source: 'exponential fall with time constant C ÷ UA: Incropera and DeWitt, chapter 5 (from memory)',
    said: one(/lets through <span[^>]*>about ([\d.]+)/),
    again: (text) => {
      const [kg = 0, each = 0] = all(text, /In it ([\d.]+) kg × ([\d,]+) J/);
      return (Math.log(2) * kg * each) / (3600 * one(/is gone after ([\d.]+) hours/)(text));
    },
    within: 0.002,
  },
  {
    what: 'the tax that the price of animals holds',
    page: '/invoices/1',
    source: 'a gross price × rate ÷ (100 + rate): arithmetic of percentages',
    said: one(/rounded = €([\d.]+)\./),
    again: (text) => {
      const [gross = 0, rate = 0, held = 0] = all(
        text,
        /€([\d.]+) for animals × ([\d.]+) ÷ \(100 \+ ([\d.]+)\), rounded/,
      );
      return (gross * rate) / (100 + held);
    },
    within: 0.005,
  },
  {
    what: 'what is open of an order',
    page: '/orders/1/payments',
    source: 'owed less paid: subtraction',
    said: one(/Open: <span[^>]*><span class="figure">€([\d.]+)/),
    again: (text) => {
      const [owed = 0, paid = 0] = all(text, /€([\d.]+) owed − €([\d.]+) paid/);
      return owed - paid;
    },
    within: 0.001,
  },
  {
    what: 'the tax held in an invoice',
    page: '/invoices/1',
    source: 'EN 16931-1:2017, BR-CO-17: taxable amount × rate, rounded to cents',
    said: one(/VAT 19\s%.*?<span class="figure">€([\d.]+)</s),
    again: (text) => {
      const base = one(/Without tax.*?<span class="figure">€([\d.]+)</s)(text);
      return Math.round(base * 19) / 100;
    },
    within: 0.005,
  },
  {
    what: 'animals in a customer’s box',
    page: '/o/',
    source: 'groups × animals in each: multiplication',
    said: one(/data-computed="cups">(\d+) animals/),
    again: (text) => {
      const [groups = 0, each = 0] = all(text, /<\/\w+>: (\d+) × (\d+) = \d+\./);
      return groups * each;
    },
    within: 0,
  },
  {
    what: 'the sum of an order',
    page: '/orders/1',
    source: 'groups × price, and postage',
    said: one(/Total<\/th><td[^>]*><span class="figure">€([\d.]+)/),
    again: (text) => {
      const [, facts = ''] = /data-explains="total".*?<dl[^>]*>(.*?)<\/dl>/s.exec(text) ?? [];
      const lines = [...facts.matchAll(/(\d+) × <span class="figure">€([\d.]+)</g)];
      const postage = one(/Postage<\/dt><dd[^>]*><span class="figure">€([\d.]+)/)(facts);
      return lines.reduce((sum, [, groups, price]) => sum + number(groups) * number(price), postage);
    },
    within: 0,
  },
  {
    what: 'animals that a proposal leaves to spare',
    page: '/orders/1/propose',
    source: 'what can go, less what is promised and taken: subtraction',
    said: one(/data-label="Left"[^>]*>(\d+)/),
    again: (text) => {
      const [can = 0, promised = 0, taken = 0] = all(
        text,
        /: (\d+) can go − (\d+) promised = \d+ to spare; − (\d+) taken/,
      );
      return can - promised - taken;
    },
    within: 0,
  },
  {
    what: 'animals of which some show',
    page: '/species/1/detection',
    source: 'mean of a beta distribution: alpha ÷ (alpha + beta)',
    said: one(/Believed now: <span[^>]*>about (\d+)\s%/),
    again: (text) => {
      const [watched = 1, shown = 0] = all(
        text,
        /Believed now: as if of ([\d.]+) animals ([\d.]+) had shown/,
      );
      return (100 * shown) / watched;
    },
    within: 0.5,
  },
];
