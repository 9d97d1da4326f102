import { beforeAll, describe, expect, it } from 'vitest';
import { business, customers, orders } from '../../server/schema/tables.ts';
import type { Language } from '../../shared/settings/languages.ts';
import type { ArrivalCard } from '../../views/documents/arrival-page.ts';
import { careSheets } from '../../views/documents/care-sheet.ts';
import type { CareSheetData } from '../../views/documents/care-sheet-data.ts';
import { speakerFor, wordsIn } from '../../views/words/speaker.ts';
import { makeCounted } from '../support/counted-stock.ts';
import { describedSpecies } from '../support/described-species.ts';
import { makeCustomer, makeLine, makeOrder } from '../support/orders.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import { expectTidy } from './on-paper.ts';
import { decodeQr, nodesOf, type ReadNode, type ReadPdf, readPdf } from './read-pdf.ts';
import { care, cupCare } from './sample-care.ts';
import { options } from './sample-orders.ts';

const locales: Record<Language, string> = { en: 'en-GB', de: 'de-DE', es: 'es-ES' };

const card: ArrivalCard = {
  orderNumber: '147',
  customerName: 'Mara Ilvane',
  packedOn: '2026-11-11',
  reachAt: 'bench@example.org',
  link: 'https://bench.example.org/a/token',
  contents: [care, cupCare].map((sheet) => ({
    commonName: sheet.commonName,
    scientificName: sheet.scientificName,
    cultureCode: sheet.batch?.cultureCode ?? '',
    line: sheet.batch?.line ?? '',
  })),
};

async function printed(language: Language, change: Partial<CareSheetData> = {}) {
  const sheet: CareSheetData = { ...care, language, ...change };
  const made = await careSheets([sheet], { ...options, language, locale: locales[language] }, card);
  return { ...made, read: await readPdf(made.pdf) };
}

/** The words of a page without the hyphens and breaks of its lines. */
const wordsOn = (read: ReadPdf, page: number) =>
  (read.pages[page]?.lines ?? []).join(' ').replace(/\s+/g, ' ');

describe.each(['en', 'de', 'es'] as const)('a box for somebody who reads %s', (language) => {
  let read: ReadPdf;
  let warnings: string[];
  beforeAll(async () => {
    ({ read, warnings } = await printed(language, {
      inEnglish: ['name', 'food', 'cautions'],
      terms: { Substrate: 'Erde oder Tierra' },
    }));
  });
  const words = wordsIn[language];
  const speaker = speakerFor({ language, locale: locales[language] });

  it('has a card on top that says what to do, what is in it and whom to ask', () => {
    const page = wordsOn(read, 0);
    for (const entry of [
      'title',
      'unpack',
      'unpackWords',
      'settleWords',
      'waterWords',
      'worryWords',
      'inTheBox',
    ] as const)
      expect(page, entry).toContain(words.arrival[entry]);
    for (const said of [
      'Mara Ilvane',
      speaker.day('2026-11-11'),
      'Porcellio scaber',
      'PSC-014',
      'CMU-003',
      'bench@example.org',
    ])
      expect(page, said).toContain(said);
    expect(decodeQr(read.pages[0]!)).toBe(card.link);
    expectTidy(read);
    expect(warnings).toEqual([]);
  });

  it('has a sheet whose own words are all in that language', () => {
    const page = wordsOn(read, 1);
    for (const entry of [
      'title',
      'setUp',
      'recipe',
      'loose',
      'enclosure',
      'water',
      'food',
      'breeding',
      'temperature',
      'normal',
      'notNormal',
      'cautions',
      'noRelease',
      'wash',
      'law',
    ] as const)
      expect(page, entry).toContain(words.care[entry]);
    for (const entry of Object.values(words.temperatures).filter((text) => !text.includes('{')))
      expect(page).toContain(entry);
    expect(page).toContain(speaker.say('care.packed', { day: speaker.day('2026-11-11', 'short') }));
    expect(page).toContain(words.drawing.freeSpace);
    if (language !== 'en')
      for (const english of ['Set it up', 'Cautions', 'Packed', 'page 1', 'printed', 'deadly', 'moist drier'])
        expect(page).not.toContain(english);
    expect(read.title).toBe(speaker.say('care.titleOfOne', { name: care.commonName }));
    expect(read.language).toBe(locales[language]);
  });

  it('marks what is in another language than the sheet', () => {
    const langs = nodesOf(read.pages[1]!.tree).flatMap((node) => (node.lang ? [node.lang] : []));
    expect(new Set(langs)).toEqual(new Set(language === 'en' ? ['la'] : ['la', 'en']));
    if (language !== 'en') expect(wordsOn(read, 1)).toContain('Erde oder Tierra');
  });
});

const children = (node: ReadNode) => (node.children ?? []).filter((child) => child.role);
const rolesIn = (node: ReadNode) => children(node).map((child) => child.role);

describe('the structure of a box’s papers (PDF/UA)', () => {
  let read: ReadPdf;
  beforeAll(async () => {
    ({ read } = await printed('de', { cautions: ['Beißen.'] }));
  });

  it('is a tagged document with a title and a language', () => {
    expect(read).toMatchObject({ marked: true, language: 'de-DE' });
    expect(read.metadata).toContain('pdfuaid');
    expect(read.bookmarks).toEqual(['Wenn das Paket ankommt', care.commonName]);
  });

  it('begins each page with its only first heading, and skips no level', () => {
    for (const page of read.pages) {
      const levels = nodesOf(page.tree).flatMap((node) => {
        const level = /^H(\d)$/.exec(node.role ?? '')?.[1];
        return level ? [Number(level)] : [];
      });
      expect(levels[0]).toBe(1);
      expect(levels.filter((level) => level === 1)).toHaveLength(1);
      for (const [index, level] of levels.entries())
        expect(level - (levels[index - 1] ?? 0)).toBeLessThanOrEqual(1);
    }
  });

  it('has whole lists, whole tables and figures with words', () => {
    for (const node of read.pages.flatMap((page) => nodesOf(page.tree))) {
      if (node.role === 'L') expect(new Set(rolesIn(node))).toEqual(new Set(['LI']));
      if (node.role === 'LI') expect(rolesIn(node)).toEqual(['Lbl', 'LBody']);
      if (node.role === 'Table') expect(new Set(rolesIn(node))).toEqual(new Set(['TR']));
      if (node.role === 'TR') expect(rolesIn(node)).toEqual(['TH', 'TD']);
      if (node.role === 'Figure') expect(node.alt?.length).toBeGreaterThan(20);
    }
    const figures = nodesOf(read.pages[1]!.tree).filter((node) => node.role === 'Figure');
    expect(figures.map((node) => node.alt?.split(' ')[0])).toEqual(['Schnitt', 'Temperaturskala.']);
  });

  it('is read in the order in which it stands, and its foot is passed over', () => {
    for (const page of read.pages) {
      const order = nodesOf(page.tree).flatMap((node) =>
        node.type === 'content' ? [Number(/mc(\d+)$/.exec(node.id ?? '')?.[1])] : [],
      );
      expect(order.length).toBeGreaterThan(10);
      expect(order).toEqual([...order].sort((a, b) => a - b));
      // what is marked but stands in no element is furniture
      expect(page.artifacts).toContain('Seite 1 von 1');
      expect(page.artifacts).not.toContain(care.text.food.slice(0, 20));
    }
  });
});

describe('whose language it is', () => {
  it('is the customer’s, unless the order has its own', async () => {
    const app = await testApp();
    const kind = describedSpecies(app.db);
    const culture = makeCounted(app.db, kind.id, 120, { code: 'AA-1' });
    const customerId = makeCustomer(app.db, { language: 'de', country: 'AT', name: '見本 花子' }).id;
    const order = makeOrder(app.db, { customerId, dispatchOn: '2026-11-30' });
    const line = makeLine(app.db, order.id, kind.id);
    await app.owner.post('/orders/1/reserve', { [`groups-${line.id}-${culture.id}`]: 1 });
    await app.owner.post('/orders/1/confirm');
    const printedNow = async (path: string) => readPdf((await app.helper.bytes(path)).body);
    const german = await printedNow('/orders/1/care-sheets.pdf');
    expect(german.language).toBe('de-AT');
    for (const said of [
      'Wenn das Paket ankommt',
      'für 見本 花子, Bestellung 1',
      'Pflegeblatt',
      'Gepackt am Mo. 30. Nov. 2026',
    ])
      expect(german.words).toContain(said);
    app.db.update(orders).set({ language: 'es' }).run();
    expect((await printedNow('/orders/1/care-sheets.pdf')).words).toContain('Cuando llegue el paquete');
    // the packing sheet is for staff
    expect((await printedNow('/orders/1/packing-sheet.pdf')).words).toContain('Packing sheet');
    expect((await printedNow(`/species/${kind.id}/care-sheet.pdf?language=es`)).words).toContain(
      'Hoja de cuidados',
    );
    expect((await printedNow(`/species/${kind.id}/care-sheet.pdf?language=xx`)).words).toContain(
      'Care sheet',
    );
  });
});

describe('the language', () => {
  const customer = {
    name: 'Somebody New',
    street: '2 Example Road',
    postcode: '12345',
    city: 'Exampletown',
    country: 'DE',
    units: 'metric',
    paper: 'A4',
  };
  const all = (app: TestApp) => app.db.select().from(customers).orderBy(customers.id).all();

  it('of a customer is chosen on their form, which begins with that of the business', async () => {
    const app = await testApp();
    app.db.update(business).set({ language: 'es' }).run();
    expect((await app.owner.get('/customers/new')).text).toMatch(/value="es"[^>]*checked/);
    await app.owner.post('/customers', { ...customer, language: 'de' });
    expect(all(app)).toMatchObject([{ language: 'de' }]);
    expect((await app.owner.get('/customers/1')).text).toContain('German');
    await app.owner.post('/customers/1', { ...customer, language: 'es', version: 1 });
    expect(all(app)).toMatchObject([{ language: 'es' }]);
    const wrong = await app.owner.post('/customers', { ...customer, language: 'xx' });
    expect(wrong.status).toBe(422);
    expect(wrong.text).toContain('Choose the language they read.');
  });

  it('of an order is its customer’s until another is chosen', async () => {
    const app = await testApp();
    const kind = describedSpecies(app.db);
    const id = makeCustomer(app.db, { language: 'de' }).id;
    expect((await app.owner.get(`/orders/new?customer=${id}`)).text).toContain('own: German');
    const form = { customer: id, 'species-0': kind.id, 'groups-0': 1 };
    await app.owner.post('/orders', form);
    await app.owner.post('/orders', { ...form, language: 'es' });
    expect(app.db.select().from(orders).orderBy(orders.id).all()).toMatchObject([
      { language: null },
      { language: 'es' },
    ]);
    expect((await app.owner.get('/orders/1')).text).toContain('German, Metric');
    expect((await app.owner.get('/orders/2')).text).toContain('Spanish, Metric');
  });
});
