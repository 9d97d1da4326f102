import { beforeAll, describe, expect, it } from 'vitest';
import { printWhole } from '../../server/plumbing/print-in-thread.ts';
import {
  orders,
  species,
  speciesCare,
  speciesLayerParts,
  speciesLayers,
} from '../../server/schema/tables.ts';
import { makeCounted } from '../support/counted-stock.ts';
import { describedSpecies, headings } from '../support/described-species.ts';
import { makeCustomer, makeLine, makeOrder } from '../support/orders.ts';
import { makeEnclosure, makePlace, makeSpecies } from '../support/stock.ts';
import { testApp } from '../support/test-app.ts';
import { decodeQr, readPdf } from './read-pdf.ts';
import { options } from './sample-orders.ts';

// a thread that begins reads all the faces first; on a busy machine that takes longer than a page may wait
beforeAll(async () => {
  await printWhole({ kind: 'packing', orders: [], options, bench: null });
}, 120_000);

async function confirmed(customer: Parameters<typeof makeCustomer>[1] = {}) {
  const app = await testApp();
  const kind = describedSpecies(app.db);
  const cultures = [
    makeCounted(app.db, kind.id, 120, { code: 'AA-1', placeId: makePlace(app.db, { name: 'Low shelf' }).id }),
    makeCounted(app.db, kind.id, 120, { code: 'BB-2' }),
  ];
  const customerId = makeCustomer(app.db, { street: '2 Example Road\nBack door', ...customer }).id;
  const order = makeOrder(app.db, { customerId, dispatchOn: '2026-11-30', note: 'Ring twice.' });
  const line = makeLine(app.db, order.id, kind.id, { groups: 2 });
  await app.owner.post(
    '/orders/1/reserve',
    Object.fromEntries(cultures.map(({ id }) => [`groups-${line.id}-${id}`, 1])),
  );
  expect((await app.owner.post('/orders/1/confirm')).status).toBe(303);
  return { app, kind, cultures };
}

describe('the packing sheet', () => {
  it('carries the order, the address, the picks, and a code that leads to the order', async () => {
    const { app } = await confirmed();
    const file = await app.helper.bytes('/orders/1/packing-sheet.pdf');
    expect([file.status, file.type]).toEqual([200, 'application/pdf']);
    const read = await readPdf(file.body);
    for (const words of [
      'Packing sheet',
      'Mon 30 Nov 2026',
      'Carla Customer',
      '2 Example Road',
      'Back door',
      '12345 Exampletown',
      'Germany',
      'Ring twice.',
      'AA-1',
      'Low shelf',
      'Wash your hands.',
    ])
      expect(read.words, words).toContain(words);
    expect(decodeQr(read.pages[0]!)).toBe('http://127.0.0.1:4780/orders/1');
    expect(read.pages[0]?.widthPt).toBeCloseTo(595.28, 0); // A4: 210 mm
    expect(read.words).not.toMatch(/€|12[.,]50/);
  });

  it('is printed for all confirmed orders of a day, in their order', async () => {
    const { app, cultures, kind } = await confirmed();
    const second = makeOrder(app.db, { dispatchOn: '2026-11-30' });
    const line = makeLine(app.db, second.id, kind.id);
    await app.owner.post('/orders/2/reserve', { [`groups-${line.id}-${cultures[0]?.id}`]: 1 });
    await app.owner.post('/orders/2/confirm');
    makeOrder(app.db, { dispatchOn: '2026-11-30' });
    const file = await app.helper.bytes('/packing-sheets.pdf?day=2026-11-30');
    const read = await readPdf(file.body);
    const first = read.pages.filter((one) => one.blackAreas.length > 20);
    expect(first.map((one) => decodeQr(one))).toEqual([
      'http://127.0.0.1:4780/orders/1',
      'http://127.0.0.1:4780/orders/2',
    ]);
    expect((await app.helper.get('/packing-sheets.pdf?day=2026-12-01')).status).toBe(404);
    for (const day of ['', 'today', '2026-13-01', "2026-11-30'"])
      expect((await app.helper.get(`/packing-sheets.pdf?day=${encodeURIComponent(day)}`)).status, day).toBe(
        400,
      );
  });

  it('says what the owner decided against the calculation', async () => {
    const app = await testApp();
    const kind = describedSpecies(app.db);
    const culture = makeCounted(app.db, kind.id, 60, { code: 'CC-3' });
    const line = makeLine(app.db, makeOrder(app.db).id, kind.id);
    await app.owner.post('/orders/1/reserve', {
      [`groups-${line.id}-${culture.id}`]: 1,
      override: 'yes',
      overrideReason: 'the culture is being closed',
    });
    await app.owner.post('/orders/1/confirm');
    const read = await readPdf((await app.helper.bytes('/orders/1/packing-sheet.pdf')).body);
    expect(read.words).toContain('CC-3: 1 group (14 animals)');
    expect(read.words).toContain('Reason: the culture is being closed (Olive Owner, Wed 25 Nov 2026)');
  });
});

describe('care sheets', () => {
  it('are one page for each culture in the box, with its batch, as the customer reads', async () => {
    const { app } = await confirmed({ units: 'us', paper: 'Letter' });
    const read = await readPdf((await app.helper.bytes('/orders/1/care-sheets.pdf')).body);
    // the card on top, then a sheet for each culture
    expect(read.pages).toHaveLength(3);
    expect(read.pages[0]?.lines.join(' ')).toMatch(/^When the box arrives for Carla Customer, order 1/);
    expect(read.pages[0]?.widthPt).toBeCloseTo(612, 0); // US Letter: 8.5 in
    for (const heading of headings) expect(read.words, heading).toContain(`What to know about ${heading}.`);
    for (const words of [
      'AA-1',
      'BB-2',
      'Carla Customer',
      '°F',
      'leaf mould',
      'Shoe box',
      'Wash your hands.',
    ])
      expect(read.words, words).toContain(words);
    expect(read.words).not.toContain('°C');
  });

  it('name the day of packing once there is one', async () => {
    const { app, cultures } = await confirmed();
    const planned = await readPdf((await app.helper.bytes('/orders/1/care-sheets.pdf')).body);
    expect(planned.words).toContain('packed Mon 30 Nov 2026');
    const ticks = Object.fromEntries(cultures.map(({ id }) => [`tick-1-${id}`, 'yes']));
    expect((await app.helper.post('/orders/1/pack', ticks)).status).toBe(303);
    const packed = await readPdf((await app.helper.bytes('/orders/1/care-sheets.pdf')).body);
    expect(packed.words).toContain('packed Wed 25 Nov 2026');
  });

  it('can be had for a species alone, with the recipe for one enclosure', async () => {
    const app = await testApp();
    const kind = describedSpecies(app.db);
    const read = await readPdf((await app.helper.bytes(`/species/${kind.id}/care-sheet.pdf`)).body);
    expect(read.pages).toHaveLength(1);
    // 200 x 100 x 50 mm is 1 litre; three parts and one that settles to a half: 3/3.5 and 1/3.5 litres.
    expect(read.words).toContain('860 ml');
    expect(read.words).toContain('290 ml');
    expect(read.words).not.toContain('Carla');
  });

  it('say what is missing when one cannot be made', async () => {
    const app = await testApp();
    const bare = makeSpecies(app.db);
    const answer = await app.owner.get(`/species/${bare.id}/care-sheet.pdf`);
    expect(answer.status).toBe(422);
    expect(answer.text).toContain('choose its enclosure');
    app.db
      .update(species)
      .set({ homeEnclosureId: makeEnclosure(app.db).id })
      .run();
    expect((await app.owner.get(`/species/${bare.id}/care-sheet.pdf`)).text).toContain(
      'layers of its substrate',
    );
    const layer = { speciesId: bare.id, position: 0, name: 'too high', depthMm: 500 };
    const { id } = app.db.insert(speciesLayers).values(layer).returning().get();
    app.db
      .insert(speciesLayerParts)
      .values({ layerId: id, position: 0, material: 'soil', parts: 1, settling: 1 })
      .run();
    expect((await app.owner.get(`/species/${bare.id}/care-sheet.pdf`)).text).toMatch(/only 120\smm/);
    expect((await app.owner.get('/species/99/care-sheet.pdf')).status).toBe(404);
    expect((await app.owner.get('/species/x/care-sheet.pdf')).status).toBe(404);
  });
});

describe('the papers of an order', () => {
  it('are looked through before they are printed', async () => {
    const { app } = await confirmed();
    expect((await app.helper.get('/orders/1')).text).toContain('href="/orders/1/papers"');
    const page = await app.helper.get('/orders/1/papers');
    expect(page.text).toContain('The papers can be printed as they are.');
    expect(page.text).toContain('Set BASE_URL');
    const part = await app.helper.get('/orders/1/papers', { 'HX-Request': 'true' });
    expect(part.text).toBe('<p class="quiet">The papers can be printed as they are.</p>');
  });

  it('warn of what is missing or cannot be printed', async () => {
    const { app } = await confirmed({ name: 'Carla \u{10480}', street: '', city: '' });
    app.db.update(orders).set({ dispatchOn: null }).run();
    app.db.delete(speciesCare).run();
    const page = await app.owner.get('/orders/1/papers');
    for (const words of [
      'The street and the town are missing.',
      'The order has no dispatch day.',
      'has no text under: Enclosure',
    ])
      expect(page.text, words).toContain(words);
    const part = await app.owner.get('/orders/1/papers', { 'HX-Request': 'true' });
    expect(part.text).toMatch(/\d+ warnings about the papers/);
    app.db.update(species).set({ homeEnclosureId: null }).run();
    expect((await app.owner.get('/orders/1/papers')).text).toContain('has no care sheet');
    expect((await app.owner.get('/orders/1/care-sheets.pdf')).status).toBe(422);
  });

  it('are not printed for drafts and cancelled orders', async () => {
    const { app } = await confirmed();
    for (const [state, words] of [
      ['draft', 'once it is confirmed'],
      ['cancelled', 'was cancelled'],
    ] as const) {
      app.db.update(orders).set({ state }).run();
      for (const end of ['packing-sheet.pdf', 'care-sheets.pdf', 'papers']) {
        const answer = await app.owner.get(`/orders/1/${end}`);
        expect([answer.status, end]).toEqual([409, end]);
        expect(answer.text).toContain(words);
      }
    }
  });

  it('are for those who are signed in', async () => {
    const { app, kind } = await confirmed();
    for (const path of [
      '/orders/1/papers',
      '/orders/1/packing-sheet.pdf',
      '/orders/1/care-sheets.pdf',
      '/packing-sheets.pdf?day=2026-11-30',
      `/species/${kind.id}/care-sheet.pdf`,
    ]) {
      expect((await app.outsider.get(path)).headers.location, path).toBe(
        `/sign-in?next=${encodeURIComponent(path)}`,
      );
      expect((await app.owner.get(path)).status, path).toBe(200);
      expect((await app.helper.get(path)).status, path).toBe(200);
    }
    for (const end of ['papers', 'packing-sheet.pdf', 'care-sheets.pdf'])
      for (const number of ['9', '0', 'x'])
        expect((await app.owner.get(`/orders/${number}/${end}`)).status, `${number}/${end}`).toBe(404);
  });
});
