import { writeFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { insertCup, saveSpeciesPacking } from '../../server/documents/queries-packing.ts';
import { Refusal } from '../../server/plumbing/errors.ts';
import { printStream, printWhole, startPrinting } from '../../server/plumbing/print-in-thread.ts';
import type { PrintJob } from '../../server/plumbing/print-job.ts';
import { cups, groupPacking, packingHabits, speciesPacking } from '../../server/schema/tables.ts';
import { writePackingSheets } from '../../views/documents/packing-sheet.ts';
import { makeCounted } from '../support/counted-stock.ts';
import { decide, stockToDecide } from '../support/decided.ts';
import { describedSpecies } from '../support/described-species.ts';
import { makeRule } from '../support/movement.ts';
import { makeCustomer, makeLine, makeOrder } from '../support/orders.ts';
import { makePlace } from '../support/stock.ts';
import { testApp, testNow } from '../support/test-app.ts';
import { expectTidy } from './on-paper.ts';
import { decodeQr, readPdf } from './read-pdf.ts';
import { options, order as sampleOrder } from './sample-orders.ts';

const empty: PrintJob = { kind: 'packing', orders: [], options, bench: null };

// a thread that begins reads all the faces first; on a busy machine that takes longer than a page may wait
beforeAll(async () => {
  await printWhole(empty);
}, 120_000);

/** Confirmed orders of a day, each from a culture of its own; shelves in the order of the names. */
async function day(customers: Parameters<typeof makeCustomer>[1][], shelves: string[]) {
  const t = await testApp();
  const kind = describedSpecies(t.db);
  const stock = stockToDecide(t.db);
  const orders = [];
  for (const [index, customer] of customers.entries()) {
    const placeId = makePlace(t.db, { name: shelves[index] ?? '', shelfOrder: shelves[index] ?? '' }).id;
    const culture = makeCounted(t.db, kind.id, 140, { code: `EX-${index + 1}`, placeId });
    const order = makeOrder(t.db, { customerId: makeCustomer(t.db, customer).id, dispatchOn: '2026-11-30' });
    const line = makeLine(t.db, order.id, kind.id, { groups: 2 });
    await t.owner.post(`/orders/${order.number}/reserve`, { [`groups-${line.id}-${culture.id}`]: '2' });
    expect((await t.owner.post(`/orders/${order.number}/confirm`)).status).toBe(303);
    orders.push(order);
  }
  return { t, kind, stock, orders };
}

async function sheet(t: Awaited<ReturnType<typeof day>>['t'], path: string) {
  const file = await t.helper.bytes(path);
  expect([path, file.status, file.type]).toEqual([path, 200, 'application/pdf']);
  if (process.env.KEEP_PDF)
    writeFileSync(`${process.env.KEEP_PDF}${path.replace(/\W+/g, '-')}.pdf`, file.body);
  return readPdf(file.body);
}

describe('the sheet of a parcel that was decided', () => {
  it('says all that the bench must know', async () => {
    const { t, kind, stock, orders } = await day(
      [{ name: 'Đặng Thị\nMỹ אבג', country: 'US', region: 'Ohio', street: '1 Long Lane\n2nd floor' }],
      ['a'],
    );
    const cupId = insertCup(
      t.db,
      { name: 'Round cup', lengthMm: 90, widthMm: 90, heightMm: 60, emptyMassG: 8, note: '' },
      testNow,
    );
    const own = { cupId, animalsPerCup: 7, animalMassMg: 50, ventilation: '', padding: 'Beech leaves.' };
    saveSpeciesPacking(t.db, kind.id, own);
    makeRule(t.db, {
      name: 'Paper of the office',
      effect: 'permit',
      permitNumber: 'P-77',
      permitExpiresOn: '2027-03-31',
    });
    makeRule(t.db, { name: 'Ask first', effect: 'warn', words: 'Ask the carrier.' });
    decide(t.db, stock, orders[0]!.id, { isHeld: true, reason: 'it is collected at noon' });
    const read = await sheet(t, '/orders/1/packing-sheet.pdf');
    for (const words of [
      'Leaves by 16:00 Monday 30 November 2026 Held for pickup at the counter',
      'Đặng Thị',
      '2nd floor',
      'although the calculation refuses it: colder than is safe for 3 h. Reason: it is collected at noon (Olive Owner, Wed 25 Nov 2026)',
      // 14 animals in a group and 7 in a cup
      '4 × Round cup for 28 animals of',
      'common practice, no source',
      'Padding: Beech leaves.',
      'Roomy foam (30 cm × 20 cm × 16 cm inside)',
      '1 × Warm pack',
      '14:00, 2 h before the parcel leaves',
      'Heat pack, taped under the lid',
      'Air, 10 cm',
      'at worst 3 h too cold; safe is 12 °C to 28 °C.',
      'one day late',
      'Start: Home (the radio, read 25 Nov 2026, 07:00, 5 hours before this print); Destination: Far Wending (no weather known).',
      'Permit P-77, valid until Wed 31 Mar 2027: Paper of the office.',
      'Mind: Ask first. Ask the carrier.',
      // 180 + 90 + 4 x 8 + 28 x 0.05 = 303.4
      'About 303 g',
      'Customs from Germany to United States',
      '28 live animals:',
      'Value of the contents: €25.00.',
      'No heading of the Harmonized System is set',
      'Initials, time',
      'Packed by Time Checked by Time',
    ])
      expect(read.words, words).toContain(words);
    expectTidy(read);
    expect(decodeQr(read.pages[0]!)).toBe('http://127.0.0.1:4780/orders/1');
  });

  it('refuses a pack that has no room in its box, in words, and draws none', async () => {
    const { t, stock, orders } = await day([{}], ['a']);
    decide(t.db, stock, orders[0]!.id, { box: 'tiny' });
    const read = await sheet(t, '/orders/1/packing-sheet.pdf');
    // 110 x 100 x 80 mm is 0.88 litres
    expect(read.words).toMatch(
      /No heat pack in the box “Tiny box”: it needs a box of 3\sL, this one holds 880\sml\./,
    );
    expect(read.words).toContain('does not go in, see above');
    expect(read.words).not.toContain('taped under the lid');
    expect(read.words).not.toContain('Start the heat pack');
    // at home, with everything in one country, there is nothing for customs
    expect(read.words).not.toContain('Customs');
    expectTidy(read);
  });

  it('says what stands against it once a permit has run out', async () => {
    const { t, stock, orders } = await day([{}], ['a']);
    decide(t.db, stock, orders[0]!.id);
    makeRule(t.db, {
      name: 'Old paper',
      effect: 'permit',
      permitNumber: 'P-1',
      permitExpiresOn: '2026-11-29',
    });
    const read = await sheet(t, '/orders/1/packing-sheet.pdf');
    expect(read.words).toContain('Does not leave. Old paper:');
    expect(read.words).toContain('The permit is no longer valid on the day the parcel leaves.');
  });
});

describe('a packing day', () => {
  it('is one print in packing order behind a list of what to lay out', async () => {
    const { t, stock, orders } = await day(
      [{ name: 'Late Larry' }, { name: 'Far Fiona' }, { name: 'Near Nora' }, { name: 'Open Olaf' }],
      ['d', 'c', 'a', 'b'],
    );
    decide(t.db, stock, orders[0]!.id, { dispatchBy: '18:00', packs: 0 });
    decide(t.db, stock, orders[1]!.id, { isHeld: true, reason: 'asked for' });
    decide(t.db, stock, orders[2]!.id);
    const read = await sheet(t, '/packing-sheets.pdf?day=2026-11-30');
    expect(read.title).toBe('Packing day Monday 30 November 2026');
    expect(read.bookmarks).toEqual([
      'Bench list',
      'Order 3, Near Nora',
      'Order 2, Far Fiona',
      'Order 1, Late Larry',
      'Order 4, Open Olaf',
    ]);
    const list = read.pages[0]!.lines.join(' ').replace(/\s+/g, ' ');
    for (const words of [
      '4 parcels, 8 cups, 112 animals',
      'Order 4: no box is chosen yet',
      '8 Cup: size not set',
      '3 Box: Roomy foam Only 1 in the stock.',
      '2 Pack: Warm pack',
      'Orders 3, 2: start at 14:00, 2 h before the parcel leaves.',
      'what must leave first',
      '16:00 3 Near Nora 2 Roomy foam 1 × Warm pack',
      '16:00 2 Far Fiona held for pickup OVERRIDE, read its sheet 2 Roomy foam',
      '18:00 1 Late Larry 2 Roomy foam none',
      'not set 4 Open Olaf 2 not chosen none',
      `sheet 1 of ${read.pages.length} in this print`,
    ])
      expect(list, words).toContain(words);
    expectTidy(read);
  });

  it('is given out piece by piece: most of it has gone before the last order is set', async () => {
    let bytes = 0;
    const gone: number[] = [];
    const last = {
      ...sampleOrder,
      get picks() {
        gone.push(bytes);
        return sampleOrder.picks;
      },
    };
    await writePackingSheets([...Array(5).fill(sampleOrder), last], options, null, (chunk) => {
      bytes += chunk.length;
    });
    expect(gone.at(-1)).toBeGreaterThan(bytes / 2);
  });
});

describe('prints', () => {
  it('are refused with words when too many wait, and made again after that', async () => {
    const started = [];
    let refused: unknown = null;
    for (let n = 0; n < 20 && refused === null; n += 1) {
      try {
        started.push(startPrinting(empty));
      } catch (error) {
        refused = error;
      }
    }
    expect(refused).toBeInstanceOf(Refusal);
    expect((refused as Refusal).status).toBe(503);
    expect(started.length).toBeGreaterThanOrEqual(12);
    for (const { file } of started) file.resume();
    await Promise.all(started.map(({ outcome }) => outcome));
    const whole = await printWhole(empty);
    expect('pdf' in whole && (await readPdf(whole.pdf)).words).toContain('No orders were chosen');
  });

  it('that fail are errors and no half files; a reader who goes away ends them', async () => {
    const broken = { ...empty, orders: [{ ...sampleOrder, picks: null }] } as unknown as PrintJob;
    await expect(printStream(broken)).rejects.toThrow();
    const { file, outcome } = startPrinting({ ...empty, orders: Array(30).fill(sampleOrder) });
    file.destroy();
    await expect(outcome).rejects.toThrow();
  });
});

describe('cups and padding', () => {
  it('begin with usual cups, are changed by the owner alone, and keep what was typed', async () => {
    const t = await testApp();
    expect((await t.helper.get('/cups')).text).toContain('No cups yet');
    expect((await t.helper.post('/cups/starting')).status).toBe(403);
    await t.owner.post('/cups/starting');
    expect(t.db.select().from(cups).all()).toHaveLength(2);
    const wrong = await t.owner.post('/cups', { name: 'Mine', length: '9000', height: 'x' });
    expect(wrong.status).toBe(422);
    expect(wrong.text).toContain('value="9000"');
    await t.owner.post('/cups', { name: 'Mine', length: '90', height: '60', emptyMass: '7.5' });
    expect(t.db.select().from(cups).all().at(-1)).toMatchObject({
      name: 'Mine',
      lengthMm: 90,
      widthMm: 90,
      heightMm: 60,
      emptyMassG: 7.5,
    });
    expect((await t.owner.post('/cups', { name: 'mine', length: '90', height: '60' })).text).toContain(
      'Another cup has this name already.',
    );
    await t.owner.post('/cups/3/retire');
    expect((await t.helper.get('/cups')).text).toContain('no longer used');
  });

  it('come from the species, else its group, else the usual cup', async () => {
    const t = await testApp();
    const kind = describedSpecies(t.db);
    await t.owner.post('/cups/starting');
    expect(
      (await t.owner.save('/cups/habits', { cup: '1', room: '50', heading: '0106.49' }, '/cups')).status,
    ).toBe(303);
    expect(t.db.select().from(packingHabits).get()).toEqual({
      id: 1,
      cupId: 1,
      roomForPackMm: 50,
      customsHeading: '0106.49',
    });
    expect((await t.owner.post('/cups/habits', { cup: '99', room: '50' })).text).toContain('no such cup');
    await t.owner.save('/cups/groups/isopod', { cup: '2', perCup: '20', ventilation: 'Two holes.' });
    expect(t.db.select().from(groupPacking).get()).toMatchObject({
      cupId: 2,
      animalsPerCup: 20,
      padding: '',
    });
    await t.owner.save(`/cups/species/${kind.id}`, { padding: 'Moss <b>only</b>.', animalMass: '12.5' });
    expect(t.db.select().from(speciesPacking).get()).toMatchObject({ animalMassMg: 12.5, cupId: null });
    const page = (await t.owner.get('/cups')).text;
    expect(page).toContain('Moss &lt;b>only&lt;/b>.');
    expect(page.match(/Two holes\./g)).toHaveLength(2);
    expect((await t.owner.get('/cups/groups/dragon')).status).toBe(404);
    const asked = (await t.owner.get(`/cups/species/${kind.id}`)).text;
    expect(asked).toContain('Otherwise as for isopods: Two holes.');
    expect(asked).toContain('Otherwise at most 20');
  });
});
