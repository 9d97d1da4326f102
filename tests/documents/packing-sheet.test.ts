import { beforeAll, describe, expect, it } from 'vitest';
import { parcelWeight } from '../../shared/documents/parcel-weight.ts';
import { QUIET_MODULES } from '../../views/documents/marks.ts';
import type { PackingSheetData } from '../../views/documents/packing-sheet-data.ts';
import { expectTidy } from './on-paper.ts';
import { packingSheets } from './printed-sheets.ts';
import { decodeQr, nodesOf, type ReadPdf, readPdf } from './read-pdf.ts';
import { largeOrder, options, order, pick } from './sample-orders.ts';

const print = async (orders: PackingSheetData[], more: Partial<typeof options> = {}) => {
  const printed = await packingSheets(orders, { ...options, ...more });
  return { ...printed, read: await readPdf(printed.pdf) };
};

describe('a packing sheet', () => {
  let read: ReadPdf;
  let warnings: string[];
  beforeAll(async () => {
    ({ read, warnings } = await print([order]));
  });

  it('says what, for whom, when and which page on every page', () => {
    expect(read.pages.length).toBe(4);
    for (const [index, page] of read.pages.entries()) {
      const words = page.lines.join(' ');
      expect(words).toContain('Packing sheet, order 2026-0147 · Mara Ilvane · dispatch Wed 11 Nov 2026');
      expect(words).toContain(`page ${index + 1} of 4`);
      expect(words).not.toContain('in this print');
    }
  });

  it('lists what to take, in the order given, with make-up, cups and label', () => {
    const texts = read.pages.flatMap((page) => page.texts);
    const at = ['CMU-003', 'PSC-014', 'FCA-020'].map((code) =>
      texts.findIndex((text) => text.text === code && text.sizePt > 15),
    );
    expect(at).toEqual([...at].sort((a, b) => a - b));
    expect(at[0]).toBeGreaterThan(0);
    for (const words of [
      'Rack B, shelf 3, place 4',
      'Line Dalmatian 2',
      '26 animals 2 groups 2 cups, in each 10 adults + 2 juveniles + 1 extra for losses',
      'Porcellio scaber, PSC-014, 10 + 2',
      '3 groups in 1 cup, in all 300 adults',
      'Tap onto charcoal, do not pour.',
      'In all 4 cups, 339 animals (336 ordered + 3 extra for losses) from 3 cultures.',
    ]) {
      expect(read.words).toContain(words);
    }
  });

  it('gives no weight where nothing of it is known', async () => {
    const weight = parcelWeight([{ what: 'cup', count: 2, eachG: null }]);
    const { read: unweighed } = await print([{ ...order, weight }]);
    expect(unweighed.words).toContain('Not known yet. 2 cup not known. On the scales:');
    expect(unweighed.words).not.toContain('At least 0');
    expect(read.words).toContain('At least 196 g without padding and paper.');
  });

  it('carries note, overrides with their reason, limits and cautions', () => {
    for (const words of [
      'the customer collects after 17:00.',
      'Reason: replaces the group that was lost on the way in October (Ada Quill, Mon 9 Nov 2026)',
      'Ideal 22 to 27 °C. Safe 12 to 30 °C. Deadly below 5 °C and above 36 °C.',
      'Shed skins can trigger allergies: wear gloves.',
      'Packed by Time Checked by Time',
      'Local law, the carrier and licensed practice decide.',
    ]) {
      expect(read.words).toContain(words);
    }
  });

  it('is tagged, titled and in a language', () => {
    expect(read).toMatchObject({
      title: 'Packing sheet, order 2026-0147',
      author: 'Fernhollow Invertebrates',
      language: 'en-GB',
      createdOn: 'D:20261110073000Z',
      marked: true,
      bookmarks: ['Order 2026-0147, Mara Ilvane'],
    });
    expect(read.metadata).toContain('<pdfuaid:part>1</pdfuaid:part>');
    const nodes = read.pages.flatMap((page) => nodesOf(page.tree));
    const roles = new Set(nodes.map((node) => node.role));
    for (const role of [
      'Document',
      'H1',
      'H2',
      'H3',
      'P',
      'Table',
      'TR',
      'TH',
      'TD',
      'L',
      'LI',
      'LBody',
      'Figure',
    ]) {
      expect(roles, role).toContain(role);
    }
    expect(nodes.find((node) => node.role === 'Figure')?.alt).toContain(order.orderUrl);
  });

  it('names the language of scientific names', async () => {
    // the reading library passes over such spans, so the file itself is asked; these objects are not compressed
    const { pdf } = await print([order]);
    expect(pdf.toString('latin1').match(/\/S \/Span\n\/Lang \(la\)/g)?.length).toBeGreaterThanOrEqual(6);
  });

  it('is read aloud in the order in which it stands on paper', () => {
    for (const page of read.pages) {
      const contents = nodesOf(page.tree).flatMap((node) => (node.type === 'content' ? [node.id] : []));
      const numbers = contents.map((id) => Number(/mc(\d+)$/.exec(id ?? '')?.[1]));
      expect(numbers.length).toBeGreaterThan(20);
      expect(numbers).toEqual([...numbers].sort((a, b) => a - b));
    }
  });

  it('has codes and figures that are read at arm’s length', () => {
    const size = (text: string) =>
      Math.max(...read.pages[0]!.texts.filter((each) => each.text === text).map((each) => each.sizePt));
    expect(size('2026-0147')).toBeGreaterThanOrEqual(28);
    expect(size('PSC-014')).toBeGreaterThanOrEqual(22);
    expect(size('26')).toBeGreaterThanOrEqual(22);
    expect(
      Math.min(...read.pages.flatMap((page) => page.texts.map((text) => text.sizePt))),
    ).toBeGreaterThanOrEqual(9);
  });

  it('stays inside its margins', () => expectTidy(read));
  it('has nothing to warn of', () => expect(warnings).toEqual([]));

  it('opens the order when its code is read, 25 mm wide with its quiet zone free', () => {
    const [page] = read.pages;
    expect(decodeQr(page!)).toBe(order.orderUrl);
    const dots = page!.blackAreas;
    const left = Math.min(...dots.map((dot) => dot.x));
    const right = Math.max(...dots.map((dot) => dot.x + dot.width));
    const top = Math.min(...dots.map((dot) => dot.y));
    const bottom = Math.max(...dots.map((dot) => dot.y + dot.height));
    expect(((right - left) * 25.4) / 72).toBeGreaterThanOrEqual(24.99);
    const module = Math.min(...dots.map((dot) => dot.height));
    const quiet = QUIET_MODULES * module - 0.01;
    for (const text of page!.texts) {
      const clear =
        text.xPt > right + quiet ||
        text.xPt + text.widthPt < left - quiet ||
        text.yPt - text.sizePt * 0.7 > bottom + quiet ||
        text.yPt < top - quiet;
      expect(clear, text.text).toBe(true);
    }
  });
});

describe('several orders', () => {
  let read: ReadPdf;
  beforeAll(async () => {
    ({ read } = await print([order, largeOrder], { paper: 'Letter', units: 'us', locale: 'en-US' }));
  });

  it('begin on a new page each and count their own pages and all', () => {
    const total = read.pages.length;
    expect(total).toBeGreaterThan(4);
    const own = read.pages.map((page) =>
      /page (\d+) of (\d+)/.exec(page.lines.join(' '))?.slice(1).map(Number),
    );
    expect(own.slice(0, 5)).toEqual([
      [1, 4],
      [2, 4],
      [3, 4],
      [4, 4],
      [1, total - 4],
    ]);
    for (const [index, page] of read.pages.entries()) {
      expect(page.lines.join(' ')).toContain(`sheet ${index + 1} of ${total} in this print`);
    }
  });
  it('have their own codes', () => {
    expect(decodeQr(read.pages[0]!)).toBe(order.orderUrl);
    expect(decodeQr(read.pages[4]!)).toBe(largeOrder.orderUrl);
  });
  it('print every line of a long list once', () => {
    const codes = read.pages.flatMap((page) => page.texts.filter((text) => /^PSC-1\d\d$/.test(text.text)));
    expect(codes.map((text) => text.text)).toEqual(largeOrder.picks.map((each) => each.cultureCode));
  });
  it('use Letter paper, Fahrenheit and the order of month and day', () => {
    expect(read.pages.map((page) => [page.widthPt, page.heightPt])).toContainEqual([612, 792]);
    expect(read.words).toContain('Safe 54 to 86 °F.');
    expect(read.words).toContain('Wednesday, November 11, 2026');
    expect(read.words).not.toContain('°C');
  });
  it('stay inside their margins', () => expectTidy(read));
  it('never end a page with a heading', () => {
    for (const page of read.pages)
      expect(page.lines.at(-5)).not.toMatch(/^(Pick list|Limits and cautions|Note)$/);
  });
});

describe('hard data', () => {
  it('flows however long the names and notes are', async () => {
    const long = 'Porcellio hoffmannseggii var. extraordinarius subsp. longissimus '.repeat(6);
    const hard: PackingSheetData = {
      ...order,
      orderNumber: 'ORDER-2026-0000000147-SECOND-ATTEMPT',
      customerName: 'The Honourable Society for the Study of Crustaceans that Live on Land, Northern Branch',
      addressLines: ['x'.repeat(300), ...Array.from({ length: 12 }, (_each, line) => `Address line ${line}`)],
      note: Array.from({ length: 90 }, (_each, line) => `Line ${line} of a very long note.`).join('\n'),
      picks: [
        pick({
          cultureCode: 'CULTURE-CODE-OF-A-VERY-LONG-KIND-000147',
          place: `${'Room beyond the second cellar, '.repeat(4)}rack B`,
          scientificName: long,
          commonName: long,
          cups: 200,
          groups: 200,
          cupLabel: long,
          note: 'Careful. '.repeat(500),
        }),
      ],
      species: [{ ...order.species[0]!, commonName: long, cautions: Array(40).fill(long) }],
      overrides: [{ ...order.overrides[0]!, reason: 'because '.repeat(600) }],
    };
    for (const paper of ['A4', 'Letter'] as const) {
      const { read } = await print([hard], { paper });
      expectTidy(read);
      expect(read.pages.length).toBeGreaterThan(6);
      for (const page of read.pages) expect(page.lines.join(' ')).toContain('dispatch Wed 11 Nov 2026 page');
      for (const line of [0, 47, 89]) expect(read.words).toContain(`Line ${line} of a very long note.`);
      expect(read.words.match(/because/g)).toHaveLength(600);
      expect(read.words.match(/Careful\./g)).toHaveLength(500);
      expect(decodeQr(read.pages[0]!)).toBe(order.orderUrl);
    }
  });

  it('prints odd characters as they are', async () => {
    const odd = 'Ø & <b>"Ünal"</b> (50 %) \\ {x} $& – ½ “q” €';
    const { read, warnings } = await print([
      { ...order, customerName: odd, note: '=1+1 <script>alert(1)</script>' },
    ]);
    expect(read.words).toContain(odd);
    expect(read.words).toContain('=1+1 <script>alert(1)</script>');
    expect(read.bookmarks).toEqual([`Order 2026-0147, ${odd}`]);
    expect(warnings).toEqual([]);
  });

  it('keeps its metadata well formed when names hold signs of mark-up', async () => {
    const { read } = await print([{ ...order, orderNumber: 'A<&>"1' }], { businessName: 'Fern & <Hollow>' });
    expect(read.title).toBe('Packing sheet, order A<&>"1');
    expect(read.author).toBe('Fern & <Hollow>');
    expect(read.metadata).toContain('A&lt;&amp;&gt;"1');
    expect(read.metadata).not.toContain('<Hollow>');
  });

  it('prints Greek, Cyrillic and Vietnamese names so that they read back', async () => {
    const names = ['Ελένη Παπαδοπούλου', 'Снежана Ёлкина', 'Nguyễn Thị Hương', 'Łukasz Żółć', 'Željko Ðurić'];
    const { read, warnings } = await print([{ ...order, customerName: names.join('\n') }]);
    for (const name of names) expect(read.words).toContain(name);
    expect(warnings).toEqual([]);
    expectTidy(read);
  });

  it('marks a name that no font has, warns, and says so on every page', async () => {
    const { read, warnings } = await print([{ ...order, customerName: '🦗🦗 Hana' }, order]);
    expect(warnings).toHaveLength(1);
    expect(warnings[0]).toContain('🦗');
    expect(read.words).toContain('[?] Hana');
    const note = 'stands for characters this print cannot show';
    expect(read.pages.map((page) => page.lines.join(' ').includes(note))).toEqual([
      ...Array(4).fill(true),
      ...Array(4).fill(false),
    ]);
  });

  it('says so when nothing is allocated or no day is set', async () => {
    const { read } = await print([
      {
        ...order,
        dispatchOn: null,
        dispatchBy: null,
        parcel: null,
        picks: [],
        cups: [],
        species: [],
        overrides: [],
        note: '',
      },
    ]);
    expect(read.words).toContain('No culture is allocated to this order yet. Do not pack it.');
    expect(read.words).toContain('Dispatch no day set');
    expectTidy(read);
  });

  it('prints a page that says so when there are no orders', async () => {
    const { read } = await print([]);
    expect(read.pages).toHaveLength(1);
    expect(read.words).toContain('No orders were chosen for this print.');
  });

  it('reads a long address of the order’s page from its denser code', async () => {
    const orderUrl = `https://fernhollow.example.org/${'breeding/'.repeat(20)}orders/147`;
    const { read } = await print([{ ...order, orderUrl }]);
    expect(decodeQr(read.pages[0]!)).toBe(orderUrl);
    expectTidy(read);
  });

  it('is the same file from the same data', async () => {
    const one = await print([order]);
    // what was printed in between leaves no trace
    await print([{ ...order, customerName: 'ﬁ İı Ελένη\u00a0é' }]);
    const other = await print([{ ...order }]);
    expect(one.pdf.equals(other.pdf)).toBe(true);
    const later = await print([order], { createdAt: options.createdAt + 1000 });
    expect(later.pdf.equals(one.pdf)).toBe(false);
  });
});
