import { ofDaysAndLists } from './reckoned-lists.ts';
import { ofSending } from './reckoned-selling.ts';
import { all, number, one, type Reckoning } from './reckoning.ts';

const choose = (n: number, k: number): number => (k === 0 ? 1 : (choose(n, k - 1) * (n - k + 1)) / k);
/** Chance of at least two of each sex among n. */
const twoOfEach = (n: number, female: number) => {
  let chance = 0;
  for (let f = 2; f <= n - 2; f += 1) chance += choose(n, f) * female ** f * (1 - female) ** (n - f);
  return chance;
};

const ofCulture: Reckoning[] = [
  {
    what: 'what must stay',
    page: '/cultures/EX-',
    source: 'the larger of a number and half of the capacity, where growth is fastest: Schaefer 1954',
    said: one(/if that is more: [\d.]+, so (\d+)/),
    again: (text) => {
      const [least = 0, percent = 0, holds = 0] = all(text, /Must stay: (\d+), or (\d+)\s% of (\d+)/);
      return Math.ceil(Math.max(least, (percent / 100) * holds));
    },
    within: 1,
  },
  {
    what: 'animals to spare',
    page: '/cultures/EX-',
    source: 'what can go, less what is promised: subtraction',
    said: one(/promised = (\d+) to spare/),
    again: (text) => {
      const [can = 0, promised = 0] = all(text, /(\d+) − (\d+) promised =/);
      return can - promised;
    },
    within: 0,
  },
  {
    what: 'groups to spare',
    page: '/cultures/EX-',
    source: 'whole groups only: division',
    said: one(/can spare (\d+) groups?/),
    again: (text) => {
      const [spare = 0, size = 1] = all(text, /(\d+) ÷ (\d+) animals a group/);
      return Math.floor(spare / size);
    },
    within: 0,
  },
  {
    what: 'what an enclosure is believed to hold',
    page: '/cultures/EX-',
    source: 'animals a litre × litres, common practice, no source',
    said: one(/L of substrate = (\d+) that/),
    again: (text) => {
      const [each = 0, litres = 0] = all(text, /([\d.]+) animals a litre × ([\d.]+) L/);
      return each * litres;
    },
    within: 0.5,
  },
  {
    what: 'effective size',
    page: '/cultures/EX-',
    source:
      'Wright 1931, Genetics 16:97-159: 4 males × females ÷ (males + females), times the share that breeds',
    said: one(/Effective size now<\/dt><dd[^>]*>about ([\d.]+)/),
    again: (text) => {
      const [animals = 0, breed = 0, females = 0] = all(
        text,
        /Effective size: (\d+) animals × ([\d.]+) that breed × 4 × ([\d.]+) females/,
      );
      const [f, m] = [animals * females, animals * (1 - females)];
      return (breed * 4 * m * f) / (m + f);
    },
    within: 0.5,
  },
  {
    what: 'what each generation takes, in percent',
    page: '/cultures/EX-',
    source: 'Wright 1931: 1 ÷ (2 Ne)',
    said: one(/each generation takes ([\d.]+)\s%/),
    again: (text) => 100 / (2 * one(/1 ÷ \(2 × ([\d.]+)\)/)(text)),
    within: 0.05,
  },
  {
    what: 'what it keeps, in percent',
    page: '/cultures/EX-',
    source: 'Malécot 1948: one less inbreeding',
    said: one(/Heterozygosity kept<\/dt><dd[^>]*><strong>(\d+)\s%/),
    again: (text) => 100 * (1 - one(/Inbreeding<\/dt><dd[^>]*>([\d.]+)/)(text)),
    within: 1,
  },
  {
    what: 'how safe a start is, in percent',
    page: '/split',
    source: 'the binomial distribution',
    said: one(/are there with a chance of ([\d.]+)\s%/),
    again: (text) => {
      const [animals = 0, percent = 0] = all(text, /Of (\d+) animals, each female with a chance of (\d+)\s%/);
      return 100 * twoOfEach(animals, percent / 100);
    },
    within: 0.05,
  },
];

const ofKeeping: Reckoning[] = [
  {
    what: 'how dry the air is, in kPa',
    page: '/climate',
    source: 'FAO Irrigation and Drainage Paper 56 (1998), equations 11 and 54',
    said: one(/data-label="How dry">([\d.]+)\skPa/),
    again: (text) => {
      const [tempC = 0, percent = 0] = all(
        text,
        /at ([\d.]+)\s°C air holds.*?× \(1 − ([\d.]+)\s% humidity\)/,
      );
      return 0.6108 * Math.exp((17.27 * tempC) / (tempC + 237.3)) * (1 - percent / 100);
    },
    within: 0.005,
  },
  {
    what: 'litres of substrate to mix',
    page: '/substrate',
    source: 'volume of a box; a material fills what it keeps when settled',
    said: one(/Mix in all"><strong>([\d.]+)\sL/),
    again: (text) => {
      const [cm = 0, parts = 1, of = 1, settled = 1, boxes = 0, more = 0] = all(
        text,
        /Base, ([\d.]+)\scm: leaf mould [\d.]+\sL × (\d) ÷ \((\d) × ([\d.]+)\) = [\d.]+\sL; × (\d) and (\d+)\s%/,
      );
      return (2 * 1.5 * (cm / 10) * parts * boxes * (1 + more / 100)) / (of * settled);
    },
    within: 0.05,
  },
  {
    what: 'what the colonies eat in the week',
    page: '/feeders',
    source: 'animals a week when full × how full: common practice, no source',
    said: one(/data-label="Eaten">([\d.]+)/),
    again: (text) => {
      const [, line = ''] = /eaten: (.*?); in all/.exec(text) ?? [];
      return [...line.matchAll(/([\d.]+) × ([\d.]+) full/g)].reduce(
        (sum, [, week, share]) => sum + number(week) * number(share),
        0,
      );
    },
    within: 0.6,
  },
  {
    what: 'litres of an enclosure',
    page: '/enclosures',
    source: 'volume of a box',
    said: one(/data-label="In all">([\d.]+)\sL/),
    again: (text) => {
      const [length = 0, width = 0, height = 0] = all(text, /([\d.]+)\scm × ([\d.]+)\scm, ([\d.]+)\scm high/);
      return (length * width * height) / 1000;
    },
    within: 0.05,
  },
];

export const reckonings: readonly Reckoning[] = [...ofCulture, ...ofKeeping, ...ofSending, ...ofDaysAndLists];
