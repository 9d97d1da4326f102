import { testToday } from '../support/test-app.ts';
import { all, number, one, type Reckoning } from './reckoning.ts';

const choose = (n: number, k: number): number => (k === 0 ? 1 : (choose(n, k - 1) * (n - k + 1)) / k);
/** Chance of at least two of each sex among n, with even sexes: each of the 2^n ways is as likely. */
const twoOfEach = (n: number) => {
  let ways = 0;
  for (let females = 2; females <= n - 2; females += 1) ways += choose(n, females);
  return ways / 2 ** n;
};

/** Days since 1970 of "12 Nov", in the year of the bench. */
const calendarDay = (words: string) =>
  Date.parse(`${words.replace('Sept', 'Sep')} ${testToday.slice(0, 4)} 00:00 UTC`) / 86_400_000;

const ofRound: Reckoning[] = [
  {
    what: 'the day food is due',
    page: '/round',
    source: 'the Gregorian calendar: ISO 8601',
    said: (text) => calendarDay(/fed on [^+]+ \+ \d+ days? = (\d+ \w+),/.exec(text)?.[1] ?? ''),
    again: (text) => {
      const [, from = '', days = ''] = /fed on (\d+ \w+) \+ (\d+) days?/.exec(text) ?? [];
      return calendarDay(from) + Number(days);
    },
    within: 0,
  },
  {
    what: 'how many days ago food was due',
    page: '/round',
    source: 'the Gregorian calendar: ISO 8601',
    said: one(/fed on [^+]+ \+ \d+ days? = \d+ \w+, (\d+) days ago/),
    again: (text) => {
      const [, due = ''] = /fed on [^+]+ \+ \d+ days? = (\d+ \w+),/.exec(text) ?? [];
      return Date.parse(`${testToday}T00:00Z`) / 86_400_000 - calendarDay(due);
    },
    within: 0,
  },
];

const ofSpecies: Reckoning[] = [
  {
    what: 'the chance that a starter group makes a start, in percent',
    page: '/species/1',
    source: 'the binomial distribution, counted out: 1 − 26 ÷ 4,096 for twelve animals',
    said: one(/twice in ([\d.]+)\s% of cases/),
    again: (text) => 100 * twoOfEach(one(/Of (\d+) animals, each female with a chance of 50\s%/)(text)),
    within: 0.05,
  },
  {
    what: 'what is taken off for too few females, in percent',
    page: '/species/1',
    source: 'the binomial distribution, counted out: none or one female among n, (1 + n) ÷ 2^n',
    said: one(/100\s% − ([\d.]+)\s% with fewer than 2 females/),
    again: (text) => {
      const animals = one(/Of (\d+) animals, each female with a chance of 50\s%/)(text);
      return (100 * (1 + animals)) / 2 ** animals;
    },
    within: 0.005,
  },
  {
    what: 'the smallest safe start',
    page: '/species/1',
    source: 'the binomial distribution, tried from two of each on; the 95 % are common practice, no source',
    said: one(/Called safe from 95\s% on: (\d+) animals/),
    again: () => {
      let animals = 4;
      while (twoOfEach(animals) < 0.95) animals += 1;
      return animals;
    },
    within: 0,
  },
];

const ofThings: Reckoning[] = [
  {
    what: 'litres of substrate in an enclosure',
    page: '/enclosures',
    source: 'volume of a box; a litre is 1,000 cm³ (SI Brochure, 9th edition, table 8, from memory)',
    said: one(/data-label="Substrate">([\d.]+)\sL/),
    again: (text) => {
      const [length = 0, width = 0] = all(text, /([\d.]+)\scm × ([\d.]+)\scm, [\d.]+\scm high/);
      return (length * width * one(/data-label="Substrate depth">([\d.]+)\scm/)(text)) / 1000;
    },
    within: 0.05,
  },
  {
    what: 'how wide a label is, in mm',
    page: '/label-sheets',
    source: 'A4 is 210 mm wide: ISO 216',
    said: one(/across, \d+ down, each ([\d.]+) by/),
    again: (text) => {
      const [left = 0, right = 0] = all(text, /Across: \(210\smm − ([\d.]+)\smm − ([\d.]+)\smm of margins/);
      return (210 - left - right) / one(/(\d+) across, \d+ down/)(text);
    },
    within: 0.05,
  },
  {
    what: 'how large the squares of a code are, in mm',
    page: '/label-sheets/1',
    source: 'ISO/IEC 18004: 17 + 4 × version squares along a side, and four white ones at each end',
    said: one(/Squares of the QR code: ([\d.]+)\smm/),
    again: (text) => {
      const [side = 0, squares = 1] = all(text, /Code of \S+ ([\d.]+)\smm ÷ \((\d+) squares/);
      return (squares - 17) % 4 === 0 ? side / (squares + 8) : Number.NaN;
    },
    within: 0.012,
  },
];

const ofParcel: Reckoning[] = [
  {
    what: 'the mass of the cups of a parcel, in kg',
    page: '/parcels/orders/2',
    source: 'number × mass of one cup, added up',
    said: one(/In it ([\d.]+) kg/),
    again: (text) => {
      const [, sum = ''] = /Cups: (.*?) = [\d,.]+\sg;/.exec(text) ?? [];
      const parts = [...sum.matchAll(/(\d+) × ([\d.]+)\sg/g)];
      return parts.reduce((total, [, count, grams]) => total + number(count) * number(grams), 0) / 1000;
    },
    within: 0.0005,
  },
];

const ofLists: Reckoning[] = [
  {
    what: 'the total of an order in the list',
    page: '/orders',
    source: 'groups × price, and postage',
    said: one(/data-label="Total"><span class="figure">€([\d.]+)/),
    again: (text) => {
      const [, sum = '', postage = ''] = /For example order \d+: (.*?) \+ €([\d.]+) postage/.exec(text) ?? [];
      return [...sum.matchAll(/(\d+) × €([\d.]+)/g)].reduce(
        (total, [, groups, price]) => total + number(groups) * number(price),
        number(postage),
      );
    },
    within: 0,
  },
  {
    what: 'groups to spare in the list of cultures',
    page: '/cultures',
    source: 'what can go less what is promised, in whole groups: subtraction and division',
    said: one(/data-label="Spare">(\d+) groups/),
    again: (text) => {
      const [can = 0, promised = 0] = all(text, /(\d+) − (\d+) promised =/);
      return Math.floor((can - promised) / one(/÷ (\d+) animals a group/)(text));
    },
    within: 0,
  },
  {
    what: 'what must stay in the list of what can be spared',
    page: '/surplus',
    source: 'the larger of a number and half of the capacity, where growth is fastest: Schaefer 1954',
    said: one(/data-label="Must stay">(\d+)/),
    again: (text) => {
      const [least = 0, percent = 0, holds = 0] = all(text, /Must stay: (\d+), or (\d+)\s% of (\d+)/);
      return Math.ceil(Math.max(least, (percent / 100) * holds));
    },
    within: 1,
  },
];

/** The round, the species, things with measures, and lists that reckon one of their rows. */
export const ofDaysAndLists: Reckoning[] = [...ofRound, ...ofSpecies, ...ofThings, ...ofParcel, ...ofLists];
