import { isNull } from 'drizzle-orm';
import { beforeEach, describe, expect, it } from 'vitest';
import { addressOfOrder, ensureLink } from '../../server/arrivals/queries-links.ts';
import { keepReport, ordersWithNewLosses } from '../../server/arrivals/queries-reports.ts';
import { amends, arrivalReports, audit, species } from '../../server/schema/tables.ts';
import { decodeQr, readPdf } from '../documents/read-pdf.ts';
import { makeCounted } from '../support/counted-stock.ts';
import { describedSpecies } from '../support/described-species.ts';
import { makeLine, makeOrder } from '../support/orders.ts';
import { makeSpecies } from '../support/stock.ts';
import { cast, type TestApp, testApp, testNow } from '../support/test-app.ts';

const by = { personId: cast.owner.id, now: testNow };

let t: TestApp;
let order: ReturnType<typeof makeOrder>;
let at: string;

beforeEach(async () => {
  t = await testApp({ BASE_URL: 'https://bench.example.org' });
  const { id: speciesId } = makeSpecies(t.db, { scientificName: 'Exemplum dubium' });
  order = makeOrder(t.db, { state: 'sent', sentOn: '2026-11-24' });
  makeLine(t.db, order.id, speciesId);
  at = `/orders/${order.number}`;
  const { id: linkId } = ensureLink(t.db, order, by);
  keepReport(t.db, {
    orderId: order.id,
    linkId,
    formKey: 'form-0123456789abcdef',
    losses: [{ speciesId, sent: 14, dead: 2, missing: 1 }],
    note: 'Two <b>lay</b> still.',
    photos: [{ bytes: Buffer.from([0xff, 0xd8]), widthPx: 640, heightPx: 480, sha256: '0'.repeat(64) }],
    now: testNow,
  });
});

const actions = () => t.db.select({ action: audit.action }).from(audit).all();
const address = () => addressOfOrder(t.db, order.id, { base: '', now: t.clock.now() });

describe("the owner's page of an order", () => {
  it('shows what the customer said, until somebody has seen it', async () => {
    const { text } = await t.owner.get(at);
    expect(text).toContain('2 dead, 1 missing of 14');
    expect(text).toContain('Two &lt;b>lay&lt;/b> still.');
    expect(text).toContain(`src="${at}/arrival/photos/1"`);
    expect((await t.owner.bytes(`${at}/arrival/photos/1`)).type).toBe('image/jpeg');
    const other = makeOrder(t.db);
    expect((await t.owner.get(`/orders/${other.number}/arrival/photos/1`)).status).toBe(404);
    expect((await t.helper.get(`${at}/arrival/photos/1`)).status).toBe(403);
    expect((await t.owner.get('/orders')).text).toContain('1 customer reported losses.');
    expect((await t.helper.get('/orders')).text).not.toContain('reported losses');
    await t.owner.post(`${at}/arrival/seen`);
    expect(ordersWithNewLosses(t.db)).toEqual([]);
    expect((await t.owner.get('/orders')).text).not.toContain('reported losses');
  });

  it('renews and closes the address; the record of changes holds none', async () => {
    const first = address() ?? '';
    expect((await t.owner.get(at)).text).toContain(`https://bench.example.org${first}`);
    expect((await t.helper.get(at)).text).not.toContain(first);
    await t.owner.post(`${at}/link`);
    const second = address() ?? '';
    expect([(await t.outsider.get(first)).status, (await t.outsider.get(second)).status]).toEqual([404, 200]);
    await t.owner.post(`${at}/link/end`);
    expect((await t.outsider.get(second)).status).toBe(404);
    expect((await t.owner.get(at)).text).toContain('It has no address now.');
    expect(actions().map(({ action }) => action)).toEqual(['made an address', 'closed the address']);
    expect(JSON.stringify(t.db.select().from(audit).all())).not.toContain(second.slice(3));
    const draft = makeOrder(t.db);
    expect((await t.owner.post(`/orders/${draft.number}/link`)).status).toBe(409);
  });

  it('gives its photos out with the archive of photos', async () => {
    const { status, body } = await t.owner.bytes('/records/export/photos.tar');
    expect(status).toBe(200);
    // one file: its head and its content in blocks of 512, and two empty blocks (POSIX ustar)
    expect(body.length).toBe(4 * 512);
    expect(body.toString('latin1', 0, 100)).toMatch(
      new RegExp(`^order-${order.number}-arrival-photo-1\\.jpg\0`),
    );
    expect([...body.subarray(512, 515)]).toEqual([0xff, 0xd8, 0]);
  });

  it('writes down what the customer told by telephone, as a report that counts', async () => {
    const told = `${at}/arrival/told`;
    const dead = `dead-${t.db.select({ id: species.id }).from(species).get()?.id}`;
    expect((await t.helper.get(told)).status).toBe(403);
    const wrong = await t.owner.post(told, { [dead]: '99', note: 'a bad day' });
    expect(wrong.status).toBe(422);
    expect(wrong.text).toContain('There were 14 in the box.');
    expect(wrong.text).toContain('a bad day');
    expect((await t.owner.post(told, { note: 'nothing else' })).text).toContain(
      'or say above that all are well',
    );
    expect((await t.owner.post(told, { [dead]: '3', note: 'She called at noon.' })).status).toBe(303);
    const { text } = await t.owner.get(at);
    expect(text).toContain('3 dead of 14');
    expect(text).toContain('written down by');
    expect(text).toContain('She called at noon.');
    expect((await t.outsider.get(address() ?? '')).text).toContain('3 dead');
    expect((await t.owner.post(told, { all: 'well' })).status).toBe(303);
    expect((await t.owner.get(at)).text).toContain('All well');
    // Whoever wrote it down has seen it; the customer's own report before waits for somebody still.
    const unseen = t.db.select().from(arrivalReports).where(isNull(arrivalReports.seenAt)).all();
    expect(unseen.map(({ linkId }) => linkId === null)).toEqual([false]);
    const draft = makeOrder(t.db);
    expect((await t.owner.get(`/orders/${draft.number}/arrival/told`)).status).toBe(409);
  });

  it('keeps a refund, a credit or another order, each taken back with one press', async () => {
    const again = makeOrder(t.db);
    const refund = { kind: 'refund', amount: '2,50', reason: 'two dead' };
    expect((await t.owner.post(`${at}/amends`, refund)).status).toBe(303);
    await t.owner.post(`${at}/amends`, { kind: 'reship', newOrder: again.number, reason: 'one missing' });
    const { text } = await t.owner.get(at);
    expect(text).toContain('two dead');
    expect(text).toContain(`href="/orders/${again.number}"`);
    expect((await t.owner.post(`${at}/amends/1/end`)).status).toBe(303);
    expect((await t.owner.post(`${at}/amends/1/end`)).status).toBe(409);
    expect((await t.owner.get(at)).text).not.toContain('two dead');
    expect(actions().map(({ action }) => action)).toEqual([
      'wrote down a refund',
      'wrote down a reship',
      'took back',
    ]);
  });

  it.each([
    [{ kind: 'refund', reason: 'x' }, 'Write the amount.'],
    [{ kind: 'refund', amount: '0', reason: 'x' }, 'Write the amount.'],
    [{ kind: 'credit', amount: '1,250', reason: 'x' }, 'Write thousands without'],
    [{ kind: 'credit', amount: '2' }, 'Write why'],
    [{ kind: 'reship', reason: 'x' }, 'Write the number of the order it goes out on.'],
    [{ kind: 'reship', newOrder: '999', reason: 'x' }, 'another order'],
    [{ kind: 'reship', newOrder: '1', reason: 'x' }, 'another order'],
    [{ reason: 'x' }, 'Choose what you do'],
  ])('says what %j lacks', async (fields, words) => {
    const { status, text } = await t.owner.post(`${at}/amends`, fields);
    expect([status, text.includes(words)]).toEqual([422, true]);
    expect(t.db.select().from(amends).all()).toEqual([]);
  });

  it('lets the owner set until when reports are taken', async () => {
    const habits = { askWithinHours: '4', usualTransitDays: '1', reportDays: '3', linkDays: '30' };
    expect((await t.owner.post('/settings/arrivals', { ...habits, reportDays: '99' })).status).toBe(422);
    expect((await t.owner.save('/settings/arrivals', habits)).status).toBe(303);
    const { text } = await t.outsider.get(address() ?? '');
    expect(text).toContain('within 4 hours of delivery');
    expect(text).toContain('until Saturday 28 November 2026');
  });
});

describe("an order's papers", () => {
  it('lead from the code on the arrival card to the page, and the page to the care sheets of that order', async () => {
    const kind = describedSpecies(t.db);
    const culture = makeCounted(t.db, kind.id, 120, { code: 'AA-1' });
    const other = makeOrder(t.db);
    const line = makeLine(t.db, other.id, kind.id);
    const path = `/orders/${other.number}`;
    await t.owner.post(`${path}/reserve`, { [`groups-${line.id}-${culture.id}`]: 1 });
    await t.owner.post(`${path}/confirm`);
    const printed = await readPdf((await t.owner.bytes(`${path}/care-sheets.pdf`)).body);
    const link = decodeQr(printed.pages[0]!) ?? '';
    expect(link).toMatch(/^https:\/\/bench\.example\.org\/o\/[\w-]{43}$/);
    const page = await t.outsider.get(new URL(link).pathname);
    expect(page.text).toContain('Your animals are reserved for you.');
    const sheets = await t.outsider.bytes(`${new URL(link).pathname}/care-sheets.pdf`);
    expect([sheets.status, sheets.type]).toEqual([200, 'application/pdf']);
    expect((await readPdf(sheets.body)).words).toContain(kind.scientificName);
    expect((await t.outsider.bytes(`${address()}/care-sheets.pdf`)).status).toBe(303);
  });
});
