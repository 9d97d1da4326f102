import { beforeAll, describe, expect, it } from 'vitest';
import { CareSheetsTooLong, careSheetFault, careSheets } from '../../views/documents/care-sheet.ts';
import type { CareSheetData } from '../../views/documents/care-sheet-data.ts';
import { expectTidy } from './on-paper.ts';
import { nodesOf, type ReadPdf, readPdf } from './read-pdf.ts';
import { care, cupCare } from './sample-care.ts';
import { options } from './sample-orders.ts';

const print = async (sheets: CareSheetData[], more: Partial<typeof options> = {}) => {
  const printed = await careSheets(sheets, { ...options, ...more });
  return { ...printed, read: await readPdf(printed.pdf) };
};

const withText = (text: Partial<CareSheetData['text']>): CareSheetData => ({
  ...care,
  text: { ...care.text, ...text },
});
const sentences = (count: number) => 'The animals want their leaves and their rest. '.repeat(count);

describe('a care sheet', () => {
  let read: ReadPdf;
  let warnings: string[];
  beforeAll(async () => {
    ({ read, warnings } = await print([care]));
  });

  it('is one page with everything a beginner needs', () => {
    expect(read.pages).toHaveLength(1);
    for (const words of [
      'rough woodlouse Porcellio scaber',
      'PSC-014 Line Dalmatian 2 Packed Wed 11 Nov 2026 Fernhollow Invertebrates',
      'Plastic box with a clip lid: 30 cm × 20 cm, 20 cm high. Drawn to scale.',
      'Air: holes in the lid',
      'Free space 8.5 cm',
      'Leaf litter 2.5 cm',
      'Substrate 7 cm',
      'clay pebbles 2 cm',
      'moist drier',
      'Room temperature suits them.',
      ...Object.values(care.text).map((text) => text.slice(0, 30)),
      'Enclosure',
      'This is not normal',
      'Keep the box where small children and pets cannot open it.',
      'Never release them, their eggs or used substrate outdoors',
      'trigger allergies',
      'Laws on keeping, selling and sending such animals differ',
    ]) {
      expect(read.words).toContain(words);
    }
  });

  it('gives the recipe for one enclosure as it was computed', () => {
    // a 300 x 200 mm floor: 25 mm of leaves fill 1.5 L, and settle to 0.3 of 5 L
    expect(read.words).toContain('Leaf litter fills 1.5 L oak and beech leaves 5 L');
    // 70 mm fill 4.2 L; 5 parts of 5 x 0.85 + 3 x 0.7 + 1 x 0.9 + 0.2 x 1 = 7.45 settled parts: 2.82 L
    expect(read.words).toContain('flake soil 2.8 L');
    expect(read.words).toContain('crushed cuttlebone 110 ml');
  });

  it('says what, for whom, when and which page', () => {
    expect(read.words).toContain(
      'Care sheet, rough woodlouse · for Mara Ilvane, order 2026-0147 · packed Wed 11 Nov 2026 page 1 of 1',
    );
  });

  it('has a temperature scale in figures and words', () => {
    const scale = [
      '−2 °C deadly below',
      '5 °C safe from',
      '18 °C ideal from',
      '25 °C ideal to',
      '30 °C safe to',
    ];
    for (const words of [...scale, '37 °C deadly above']) expect(read.words).toContain(words);
    const figures = nodesOf(read.pages[0]!.tree).filter((node) => node.role === 'Figure');
    expect(figures.map((figure) => figure.alt?.replaceAll('\u00a0', ' '))).toEqual([
      'Section through the enclosure (30 cm × 20 cm, 20 cm high), from the bottom up: Base layer of clay pebbles, 2 cm; Substrate, 7 cm; Leaf litter, 2.5 cm; free space, 8.5 cm. Ventilation: holes in the lid. The left third is kept moist.',
      'Temperature scale. Ideal 18 to 25 °C. Safe 5 to 30 °C. Deadly below −2 °C and above 37 °C.',
    ]);
  });

  it('is tagged, titled and read aloud in the order in which it stands', () => {
    expect(read).toMatchObject({ title: 'Care sheet: rough woodlouse', language: 'en-GB', marked: true });
    const nodes = nodesOf(read.pages[0]!.tree);
    const roles = new Set(nodes.map((node) => node.role));
    for (const role of ['H1', 'H2', 'P', 'Table', 'TR', 'TH', 'TD', 'Figure', 'L', 'LI']) {
      expect(roles, role).toContain(role);
    }
    const numbers = nodes.flatMap((node) =>
      node.type === 'content' ? [Number(/mc(\d+)$/.exec(node.id ?? '')?.[1])] : [],
    );
    expect(numbers).toEqual([...numbers].sort((a, b) => a - b));
  });

  it('stays inside its margins, in type of 8.5 pt or more', () => {
    expectTidy(read);
    expect(Math.min(...read.pages[0]!.texts.map((text) => text.sizePt))).toBeGreaterThanOrEqual(8.5);
  });
  it('has nothing to warn of', () => expect(warnings).toEqual([]));
});

describe('papers and units', () => {
  it.each([
    ['A4', 595.28, 841.89],
    ['Letter', 612, 792],
  ] as const)('%s holds it on one page in both units', async (paper, width, height) => {
    for (const units of ['metric', 'us'] as const) {
      const { read } = await print([care, cupCare], {
        paper,
        units,
        locale: units === 'us' ? 'en-US' : 'en-GB',
      });
      expect(read.pages.map((page) => [page.widthPt, page.heightPt])).toEqual([
        [width, height],
        [width, height],
      ]);
      expectTidy(read);
      const other =
        units === 'us'
          ? /\d\s?(cm|mm|ml|L|°C)\b/
          : /\d\s?(qt|cups?|tbsp|°F)\b|\d[½¼¾⅛⅜⅝⅞]?\sin\s(high|across)/;
      expect(read.words).not.toMatch(other);
    }
  });
  it('speaks inches, cups, quarts and Fahrenheit in the US', async () => {
    const { read } = await print([cupCare], { units: 'us', locale: 'en-US' });
    for (const words of [
      '4½ in across the top',
      'Substrate 2⅜ in',
      'Moss ⅝ in',
      'fills 1¾ cups',
      '72 °F',
      'Packed Wed, Nov 11, 2026',
    ]) {
      expect(read.words).toContain(words);
    }
  });
  it('uses the decimal mark of the reader', async () => {
    const { read } = await print([care], { locale: 'de-DE' });
    expect(read.words).toContain('Leaf litter 2,5 cm');
    expect(read.language).toBe('en');
  });
});

describe('several care sheets', () => {
  it('are one page each in one print, each with its batch', async () => {
    const { read } = await print([care, cupCare, { ...care, batch: null }]);
    expect(read.pages).toHaveLength(3);
    expect(read.bookmarks).toEqual(['rough woodlouse', 'little sea isopod', 'rough woodlouse']);
    expect(read.pages[1]!.lines.join(' ')).toContain('CMU-003');
    expect(read.pages[1]!.lines.join(' ')).toContain('sheet 2 of 3 in this print');
    expect(read.pages[2]!.lines.join(' ')).not.toContain('PSC-014');
  });
});

describe('length', () => {
  it('shrinks the type for a long text and keeps to one page', async () => {
    const { read } = await print([withText({ food: sentences(28) })]);
    expect(read.pages).toHaveLength(1);
    expectTidy(read);
    const size = (pdf: ReadPdf) =>
      pdf.pages[0]!.texts.find((text) => text.text.startsWith('Room temperature'))!.sizePt;
    const { read: short } = await print([care]);
    expect(size(read)).toBeLessThan(size(short));
    expect(size(read)).toBeGreaterThanOrEqual(8.5);
  });

  it('refuses what cannot fit and names the heading to shorten', async () => {
    const sheet = withText({ food: sentences(120), water: sentences(20) });
    const refused = await careSheets([cupCare, sheet], options).catch((error: unknown) => error);
    expect(refused).toBeInstanceOf(CareSheetsTooLong);
    const { faults } = refused as CareSheetsTooLong;
    expect(faults).toHaveLength(1);
    expect(faults[0]).toMatchObject({ scientificName: 'Porcellio scaber', heading: 'Food' });
    expect(faults[0]?.message).toContain('shorten “Food”');
  });

  it('tells about how much is too long: with that much less it fits, with half of it less it does not', () => {
    const fault = careSheetFault(withText({ food: sentences(120) }), options);
    const cut = (share: number) =>
      withText({ food: sentences(120).slice(0, -(fault?.charactersTooMany ?? 0) * share) });
    expect(careSheetFault(cut(1.25), options)).toBeNull();
    expect(careSheetFault(cut(0.5), options)).not.toBeNull();
  });

  it('refuses more lines than any page has without setting them', () => {
    const fault = careSheetFault(withText({ food: 'x\n'.repeat(2_000) }), options);
    expect(fault?.heading).toBe('Food');
    expect(fault?.charactersTooMany).toBeGreaterThan(1_000);
  });

  it.each([
    ['Cautions', { ...care, cautions: Array<string>(60).fill('They bite: take care of your fingers.') }],
    ['Names', { ...care, commonName: 'woodlouse '.repeat(120) }],
    [
      'Substrate layers',
      {
        ...care,
        recipe: [{ name: 'Mix', litres: 1, materials: Array(60).fill({ material: 'peat', litres: 0.1 }) }],
      },
    ],
  ])('names %s when that is what is too long', (heading, sheet) => {
    expect(careSheetFault(sheet, options)?.heading).toBe(heading);
  });

  it('warns of a heading without text', async () => {
    const { warnings, read } = await print([withText({ breeding: ' ', water: '' })]);
    expect(warnings).toEqual(['The care sheet of Porcellio scaber has no text under: Water, Breeding.']);
    expect(read.words).not.toContain('Breeding');
  });
});

describe('hard data', () => {
  it('draws any enclosure: flat, tall, thin layers, many layers, long names', async () => {
    const shapes = [
      { shape: 'box', lengthMm: 1200, widthMm: 300, heightMm: 120 },
      { shape: 'cylinder', diameterMm: 60, heightMm: 400 },
      { shape: 'frustum', topDiameterMm: 60, bottomDiameterMm: 140, heightMm: 90 },
    ] as const;
    for (const measures of shapes) {
      const layers = [
        { name: 'A very long name for a drainage layer of expanded clay pebbles and lava', depthMm: 2 },
        { name: 'Mesh', depthMm: 1 },
        ...Array.from({ length: 4 }, (_each, index) => ({ name: `Layer ${index + 1} of soil`, depthMm: 10 })),
      ];
      const enclosure = { ...care.enclosure, measures, layers, freeHeadMm: measures.heightMm - 43 };
      const { read } = await print([{ ...care, enclosure }]);
      expect(read.pages).toHaveLength(1);
      expectTidy(read);
      for (const layer of layers) expect(read.words).toContain(layer.name.split(' ').at(-1));
    }
  });

  it('makes a list of lines that begin with a dash', async () => {
    const { read } = await print([withText({ food: 'They eat:\n- leaves\n- rotten wood\nNo meat.' })]);
    const nodes = nodesOf(read.pages[0]!.tree);
    expect(nodes.filter((node) => node.role === 'LI').length).toBe(2 + 4);
    expect(read.words).toContain('leaves');
    expect(read.words).not.toContain('- leaves');
    expectTidy(read);
  });

  it('prints names in other scripts, and warns where it cannot', async () => {
    const { read, warnings } = await print([{ ...care, commonName: 'Мокрица шероховатая ‘雪’ 🎉' }]);
    expect(read.words).toContain('Мокрица шероховатая ‘雪’ [?]');
    expect(warnings[0]).toContain('🎉');
  });

  it('needs no common name, line or order', async () => {
    const bare = {
      ...care,
      commonName: '',
      batch: { ...care.batch!, line: '', orderNumber: '', customerName: '' },
    };
    const { read } = await print([bare]);
    expect(read.words).toContain('Care sheet Porcellio scaber');
    expect(read.words).not.toContain('Line');
    expectTidy(read);
  });

  it('is the same file from the same data', async () => {
    const [one, other] = [await print([care, cupCare]), await print([care, cupCare])];
    expect(one.pdf.equals(other.pdf)).toBe(true);
  });
});
