/**
 * Numbers of the pages, reckoned again from the values that stand beside them, by arithmetic that is written here and
 * nowhere else. Each says where its formula is from.
 */
export type Reckoning = {
  what: string;
  /** The end of the page's address. */
  page: string;
  source: string;
  /** The value that the page shows. */
  said: (text: string) => number;
  /** The same from what stands beside it. */
  again: (text: string) => number;
  /** How far the two may be apart: half of the last digit shown, or what comes of values that are shown rounded. */
  within: number;
};

const number = (text: string | undefined) => Number((text ?? 'none').replaceAll(',', ''));
const all = (text: string, pattern: RegExp) => {
  const found = pattern.exec(text);
  if (!found) throw new Error(`the page does not say ${pattern}`);
  return found.slice(1).map(number);
};
const one = (pattern: RegExp) => (text: string) => all(text, pattern)[0] ?? Number.NaN;

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
      const [least = 0, percent = 0, holds = 0] = all(text, /Must stay: (\d+), or (\d+) % of (\d+)/);
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
    said: one(/each generation takes ([\d.]+) %/),
    again: (text) => 100 / (2 * one(/1 ÷ \(2 × ([\d.]+)\)/)(text)),
    within: 0.05,
  },
  {
    what: 'what it keeps, in percent',
    page: '/cultures/EX-',
    source: 'Malécot 1948: one less inbreeding',
    said: one(/Heterozygosity kept<\/dt><dd[^>]*><strong>(\d+) %/),
    again: (text) => 100 * (1 - one(/Inbreeding<\/dt><dd[^>]*>([\d.]+)/)(text)),
    within: 1,
  },
  {
    what: 'how safe a start is, in percent',
    page: '/split',
    source: 'the binomial distribution',
    said: one(/are there with a chance of ([\d.]+) %/),
    again: (text) => {
      const [animals = 0, percent = 0] = all(text, /Of (\d+) animals, each female with a chance of (\d+) %/);
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
      const [tempC = 0, percent = 0] = all(text, /at ([\d.]+)\s°C air holds.*?× \(1 − ([\d.]+) % humidity\)/);
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
        /Base, ([\d.]+)\scm: leaf mould [\d.]+\sL × (\d) ÷ \((\d) × ([\d.]+)\) = [\d.]+\sL; × (\d) and (\d+) %/,
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

const ofSending: Reckoning[] = [
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
      // The wall and its conductivity are not on this page: 30 mm of 0.035 W/(m K), films of 8 and 15 W/(m² K).
      const surface = (more: number) => {
        const [a = 0, b = 0, c = 0] = cm.map((side) => side / 100 + more);
        return 2 * (a * b + a * c + b * c);
      };
      return (surface(0) + surface(0.06)) / 2 / (1 / 8 + 0.03 / 0.035 + 1 / 15);
    },
    within: 0.0005,
  },
  {
    what: 'the tax held in an invoice',
    page: '/invoices/1',
    source: 'EN 16931-1:2017, BR-CO-17: taxable amount × rate, rounded to cents',
    said: one(/VAT 19 %.*?<span class="figure">€([\d.]+)</s),
    again: (text) => {
      const base = one(/Without tax.*?<span class="figure">€([\d.]+)</s)(text);
      return Math.round(base * 19) / 100;
    },
    within: 0.005,
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
    source: 'mean of a beta distribution; seven of nineteen watched animals showed in the bench',
    said: one(/Believed now: <span[^>]*>about (\d+) %/),
    again: () => (100 * 7) / 19,
    within: 0.5,
  },
];

export const reckonings: readonly Reckoning[] = [...ofCulture, ...ofKeeping, ...ofSending];
