import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { getTableColumns } from 'drizzle-orm';
import { getTableConfig, SQLiteTable } from 'drizzle-orm/sqlite-core';
import { afterEach, describe, expect, it } from 'vitest';
import { insertAmends } from '../../server/arrivals/queries-amends.ts';
import { ensureLink } from '../../server/arrivals/queries-links.ts';
import { keepReport } from '../../server/arrivals/queries-reports.ts';
import { belongingsOf } from '../../server/customers/queries-belongings.ts';
import {
  cleanLog,
  eraseCustomer,
  forgetBuyers,
  listErasures,
  replayErasures,
} from '../../server/customers/queries-erase.ts';
import { personalTables } from '../../server/customers/queries-personal.ts';
import { insertPayment } from '../../server/invoices/queries-payments.ts';
import { jobs } from '../../server/jobs.ts';
import { addMail } from '../../server/mails/queries.ts';
import { saveOrderParcel } from '../../server/parcels/queries-carriers.ts';
import { insertWeatherPlace } from '../../server/parcels/queries-weather.ts';
import { note } from '../../server/plumbing/audit.ts';
import { runJobs } from '../../server/plumbing/jobs.ts';
import { type Db, openDatabase } from '../../server/plumbing/open-database.ts';
import * as tables from '../../server/schema/tables.ts';
import { makeInvoice } from '../support/invoices.ts';
import { makeCustomer, makeLine, makeMail, makeOrder } from '../support/orders.ts';
import { makeSpecies } from '../support/stock.ts';
import { cast, type TestApp, testApp, testNow } from '../support/test-app.ts';
import { impersonal } from './impersonal.ts';

/** Words that stand nowhere else, one for each place where a person can leave something. */
const planted = {
  name: 'Quillfeather Brambleworth',
  email: 'quill@brambleworth.example.org',
  phone: '+49 5550 190283',
  street: '17 Hollowmere Crescent',
  city: 'Thistlebury',
  region: 'Greater Wyverne',
  postcode: 'WV4 7QX',
  customerNote: 'rings at the blue gate',
  orderNote: 'leave it with the apothecary',
  tracking: 'TRK-7781-ZEBRA',
  history: 'she fell ill in Lisbon',
  mail: 'Dear Quillfeather, your beetles',
  answer: '550 no such mailbox as quillfeather',
  words: 'two lay still beneath the fern',
  payment: 'paid from her aunts account',
} as const;

const written: Record<keyof typeof planted, string> = planted;

/** A customer with something in every table that holds what is theirs. */
function plant(t: TestApp, { withInvoice }: { withInvoice: boolean }) {
  const { db } = t;
  const { name, email, phone, street, postcode, city, region } = written;
  const about = { name, email, phone, street, postcode, city, region, note: written.customerNote };
  const customer = makeCustomer(db, about);
  const numbers = { personId: cast.owner.id, at: testNow };
  const subject = `customer ${customer.id}`;
  note(db, { ...numbers, action: 'added', subject, after: about });
  note(db, { ...numbers, action: 'changed', subject, before: { phone }, after: { phone: '' } });
  const order = makeOrder(db, {
    customerId: customer.id,
    state: 'closed',
    note: written.orderNote,
    tracking: written.tracking,
    trackingLink: `https://parcels.example.org/${written.tracking}`,
  });
  const own = { orderId: order.id, madeAt: testNow };
  note(db, {
    ...numbers,
    action: 'added',
    subject: `order ${order.number}`,
    after: { note: written.orderNote },
  });
  const line = makeLine(db, order.id, makeSpecies(db).id);
  db.insert(tables.orderHistory)
    .values({ ...own, state: 'sent', note: written.history })
    .run();
  const letter = { toName: name, toAddress: email, plain: written.mail, html: `<p>${written.mail}</p>` };
  addMail(db, makeMail({ orderId: order.id, ...letter, subject: `For ${name}` }));
  db.update(tables.mails).set({ answer: written.answer }).run();
  const place = { name: 'Up north', label: '', part: 'destination', latitude: 52, longitude: 13 } as const;
  const placeId = insertWeatherPlace(db, place, testNow);
  saveOrderParcel(db, order.id, { placeId, carrierId: null }, { personId: cast.owner.id, now: testNow });
  const link = ensureLink(db, order, { personId: null, now: testNow });
  const picture = {
    bytes: Buffer.from(`ffd8 ${written.words}`),
    widthPx: 9,
    heightPx: 9,
    sha256: '5'.repeat(64),
  };
  const losses = [{ speciesId: line.speciesId, sent: 14, dead: 2, missing: 0 }];
  const report = { orderId: order.id, linkId: link.id, formKey: 'form-of-the-planted', now: testNow };
  keepReport(db, { ...report, note: written.words, losses, photos: [picture] });
  const amends = { kind: 'refund' as const, amountMinor: 250, newOrderId: null, madeBy: null };
  insertAmends(db, { ...own, ...amends, reason: `${written.words}, said ${name}` });
  const paid = { kind: 'payment' as const, amountMinor: 750, wayId: 1, paidOn: '2026-11-20', madeBy: null };
  insertPayment(db, { ...own, ...paid, note: written.payment });
  db.update(tables.sessions)
    .set({ notice: JSON.stringify({ text: `${name} is saved.`, tone: 'plain' }) })
    .run();
  // a stranger's request from before, and one that still waits
  const asked = {
    name,
    email,
    street,
    postcode,
    city,
    region,
    country: 'DE',
    language: 'de' as const,
  };
  const request = { ...asked, note: written.words, currency: 'EUR', madeAt: testNow };
  const taken = { state: 'taken' as const, orderId: order.id, settledAt: testNow };
  const requests = [
    { ...request, ...taken, formKey: 'request-of-the-first', name },
    { ...request, email: email.toUpperCase(), state: 'new' as const, formKey: 'request-of-another' },
  ];
  db.insert(tables.orderRequests).values(requests).run();
  if (withInvoice) makeInvoice(db, order.id);
  return { customer, order };
}

const folders: string[] = [];
afterEach(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true });
});

/** The database as a file of its own, open as the service opens it. */
function onDisk(t: TestApp) {
  const folder = mkdtempSync(join(tmpdir(), 'erase-'));
  folders.push(folder);
  const file = join(folder, 'bench.db');
  writeFileSync(file, t.sqlite.serialize());
  return { folder, ...openDatabase(file) };
}

/** Which of the words stand anywhere in the files of a folder, as they are or as JSON and HTML would write them. */
function found(folder: string): string[] {
  const bytes = readdirSync(folder).map((name) => readFileSync(join(folder, name)));
  return Object.entries(written)
    .filter(([, words]) => bytes.some((one) => one.includes(words) || one.includes(words.toLowerCase())))
    .map(([name]) => name);
}

const erasing = (db: Db, id: number) => {
  db.transaction((tx) => eraseCustomer(tx, id, { personId: cast.owner.id, now: testNow }));
  cleanLog(db);
};

describe('erasing a customer', () => {
  it('leaves none of the planted words in any file of the database', async () => {
    const t = await testApp();
    const { customer, order } = plant(t, { withInvoice: false });
    const { folder, db, sqlite } = onDisk(t);
    // SQLite's samples of indexes hold the name too (STAT4)
    sqlite.exec('ANALYZE');
    // also in the second file, and on pages that were written over and split
    db.update(tables.customers).set({ phone: written.phone }).run();
    for (let n = 0; n < 300; n += 1) makeCustomer(db, { name: `Other ${n}`, note: 'x'.repeat(n) });
    expect(found(folder).sort()).toEqual(Object.keys(planted).sort());
    erasing(db, customer.id);
    expect(found(folder)).toEqual([]);
    expect(sqlite.pragma('integrity_check', { simple: true })).toBe('ok');
    expect(() =>
      sqlite.exec("INSERT INTO customer_words (customer_words) VALUES ('integrity-check')"),
    ).not.toThrow();
    const stays = db
      .select()
      .from(tables.orders)
      .all()
      .find(({ id }) => id === order.id);
    expect(stays).toMatchObject({ state: 'closed', customerId: customer.id, note: '' });
    expect(db.select().from(tables.arrivalLosses).all()).toMatchObject([{ sent: 14, dead: 2 }]);
    expect(db.select().from(tables.mails).all()).toMatchObject([{ state: 'stopped', plain: '' }]);
    expect(
      db
        .select()
        .from(tables.audit)
        .all()
        .map(({ action, after }) => [action, after]),
    ).toEqual([
      ['added', '{"erased":true}'],
      ['changed', '{"erased":true}'],
      ['added', '{"erased":true}'],
    ]);
    sqlite.close();
  });

  it('takes out every column that is called gone, and no other', async () => {
    const t = await testApp();
    const { customer } = plant(t, { withInvoice: true });
    const rowsOf = (own: ReturnType<typeof belongingsOf>) =>
      Object.fromEntries(
        personalTables.map(({ name, table, rows }) => [
          name,
          t.db.select().from(table).where(rows(own)).all() as Record<string, unknown>[],
        ]),
      );
    const own = belongingsOf(t.db, customer.id);
    const before = rowsOf(own);
    erasing(t.db, customer.id);
    const after = rowsOf(own);
    const changing = new Set([
      'version',
      'retiredAt',
      'erasedAt',
      'endedAt',
      'endedBy',
      'state',
      'settledAt',
      'salt',
      'settledBy',
    ]);
    const unplanted: string[] = [];
    for (const { name, columns } of personalTables)
      for (const [column, fate] of Object.entries(columns)) {
        const rows = before[name] ?? [];
        if (fate === 'gone' && !rows.some((row) => row[column])) unplanted.push(`${name}.${column}`);
        for (const [index, row] of rows.entries()) {
          const was = row[column];
          const is = after[name]?.[index]?.[column];
          const where = `${name}.${column}`;
          if (fate === 'gone' && was !== '' && was !== null) expect(is, where).not.toEqual(was);
          else if (!changing.has(column)) expect(is, where).toEqual(was);
        }
      }
    expect(unplanted).toEqual([]);
  });

  it('keeps the name on invoices as long as the owner set, and not a year longer', async () => {
    const t = await testApp();
    const { customer } = plant(t, { withInvoice: true });
    const nameOnInvoices = () => t.db.select().from(tables.invoiceBuyers).all().length;
    const run = () =>
      runJobs(jobs, {
        ...t,
        log: {
          info: () => {},
          error: (o, m) => {
            throw new Error(`${m} ${String(o)}`);
          },
        },
      });
    expect(() => t.db.delete(tables.invoiceBuyers).run()).toThrow('invoices are kept');
    expect(forgetBuyers(t.db, '2046-01-01')).toBe(0);
    erasing(t.db, customer.id);
    const shown = (await t.owner.get(`/customers/${customer.id}`)).text;
    expect(shown).toContain('Name and address are kept on 1 invoice until');
    expect(shown).toContain('31 Dec 2036');
    t.clock.at = Date.UTC(2036, 11, 31, 12);
    run();
    expect(nameOnInvoices()).toBe(1);
    t.clock.at = Date.UTC(2037, 0, 1, 12);
    run();
    expect(nameOnInvoices()).toBe(0);
    expect(t.db.select().from(tables.invoices).all()).toHaveLength(1);
  });

  it('is done again on an older backup, for the same customer only', async () => {
    const t = await testApp();
    const { customer } = plant(t, { withInvoice: false });
    const older = onDisk(t);
    erasing(t.db, customer.id);
    const list = listErasures(t.db);
    expect(list).toEqual([{ customerId: customer.id, customerMadeAt: testNow, erasedAt: testNow }]);
    expect(replayErasures(older.db, [{ ...list[0]!, customerMadeAt: 5 }], testNow)).toBe(0);
    expect(replayErasures(older.db, [...list, { ...list[0]!, customerId: 99 }], testNow + 9)).toBe(1);
    cleanLog(older.db);
    expect(found(older.folder)).toEqual([]);
    expect(replayErasures(older.db, list, testNow)).toBe(0);
    expect(listErasures(older.db)).toEqual(list);
    older.sqlite.close();
  });

  it('cannot rewrite the record of changes at any other time', async () => {
    const t = await testApp();
    plant(t, { withInvoice: false });
    for (const after of ['{"erased":true}', '{}', null])
      expect(() => t.db.update(tables.audit).set({ after }).run()).toThrow('audit rows are not changed');
  });
});

describe('the page that erases', () => {
  it('says what stays, wants the number typed, and erases once', async () => {
    const t = await testApp();
    const { customer } = plant(t, { withInvoice: true });
    const path = `/customers/${customer.id}/erase`;
    const asked = (await t.owner.get(path)).text;
    expect(asked).toContain('cannot be undone');
    expect(asked).toContain('until 31 Dec 2036');
    const wrong = await t.owner.post(path, { number: '9999' });
    expect([wrong.status, wrong.text.includes('value="9999"')]).toEqual([422, true]);
    expect(t.db.select().from(tables.erasures).all()).toEqual([]);
    expect((await t.helper.post(path, { number: customer.id })).status).toBe(403);
    expect((await t.owner.post(path, { number: customer.id })).status).toBe(303);
    expect((await t.owner.get(`/customers/${customer.id}`)).text).toContain(`Erased customer ${customer.id}`);
    expect((await t.owner.get('/orders/1')).status).toBe(200);
    expect((await t.owner.get('/invoices/1')).text).toContain('Carla Customer');
    expect((await t.owner.get('/customers?words=quill')).text).not.toContain('Quillfeather');
    expect((await t.owner.post(path, { number: customer.id })).status).toBe(409);
    expect((await t.owner.get(`/customers/${customer.id}/edit`)).status).toBe(409);
    expect((await t.owner.get('/customers/forget')).text).toContain('31 Dec 2036');
  });

  it('refuses while an order is still to be done', async () => {
    const t = await testApp();
    const { id } = makeCustomer(t.db);
    makeOrder(t.db, { customerId: id, state: 'confirmed' });
    expect((await t.owner.get(`/customers/${id}/erase`)).text).toContain('still open');
    expect((await t.owner.post(`/customers/${id}/erase`, { number: id })).status).toBe(409);
    expect(t.db.select().from(tables.erasures).all()).toEqual([]);
  });

  it('lists those without an order for long, and nobody else', async () => {
    const t = await testApp();
    const long = testNow - 4 * 366 * 86_400_000;
    makeCustomer(t.db, { name: 'Long Gone', madeAt: long });
    const loyal = makeCustomer(t.db, { name: 'Loyal Buyer', madeAt: long });
    makeOrder(t.db, { customerId: loyal.id, state: 'closed' });
    const open = makeCustomer(t.db, { name: 'Patient Waiter', madeAt: long });
    makeOrder(t.db, { customerId: open.id, madeAt: long });
    const { text } = await t.owner.get('/customers/forget');
    expect(text).toContain('Long Gone');
    expect(text).not.toMatch(/Loyal Buyer|Patient Waiter/);
  });
});

describe('what is kept of a customer', () => {
  it('is given out whole: every planted word and the photo, and no secret', async () => {
    const t = await testApp();
    const { customer } = plant(t, { withInvoice: true });
    makeCustomer(t.db, { name: 'Somebody Else', email: 'else@example.org' });
    const { body, type } = await t.owner.bytes(`/customers/${customer.id}/data.zip`);
    expect(type).toBe('application/zip');
    const files = await unzipped(body);
    const json = files.get('customer.json') ?? '';
    for (const words of Object.values(planted)) expect(json).toContain(words);
    expect([...files.keys()]).toContain('photos/arrival-photo-1.jpg');
    expect(files.get('customers.csv')).toContain(planted.name);
    const { tables: kept } = JSON.parse(json) as { tables: Record<string, Record<string, unknown>[]> };
    expect(Object.keys(kept).sort()).toEqual(
      personalTables
        .map(({ name }) => name)
        .filter((name) => name !== 'arrival_photo_files')
        .sort(),
    );
    expect(Object.keys(kept.order_links?.[0] ?? {})).not.toContain('nonce');
    expect([...files.values()].join('')).not.toContain('Somebody Else');
  });

  it('is known for every table and column there is: a new one must be named here, or called impersonal', () => {
    const declared = Object.values(tables).filter((table) => table instanceof SQLiteTable);
    const views = ['standing_diary', 'standing_contacts'];
    const names = declared.map((table) => getTableConfig(table).name).filter((name) => !views.includes(name));
    const known = [...personalTables.map(({ name }) => name), ...Object.keys(impersonal)];
    expect(names.filter((name) => !known.includes(name))).toEqual([]);
    expect(known.filter((name) => !names.includes(name))).toEqual([]);
    expect(new Set(known).size).toBe(known.length);
    for (const { name, table, columns } of personalTables) {
      expect(getTableConfig(table).name).toBe(name);
      expect(Object.keys(columns).sort(), name).toEqual(Object.keys(getTableColumns(table)).sort());
    }
  });
});

/** Files of a ZIP archive that stores them, by name; its checksums are looked at. */
async function unzipped(zip: Buffer): Promise<Map<string, string>> {
  const { crc32 } = await import('node:zlib');
  const end = zip.lastIndexOf(Buffer.from([0x50, 0x4b, 5, 6]));
  const files = new Map<string, string>();
  let at = zip.readUInt32LE(end + 16);
  for (let n = zip.readUInt16LE(end + 10); n > 0; n -= 1) {
    const [size, nameSize, start] = [
      zip.readUInt32LE(at + 20),
      zip.readUInt16LE(at + 28),
      zip.readUInt32LE(at + 42),
    ];
    const name = zip.toString('utf8', at + 46, at + 46 + nameSize);
    const from = start + 30 + zip.readUInt16LE(start + 26);
    const bytes = zip.subarray(from, from + size);
    expect(crc32(bytes), name).toBe(zip.readUInt32LE(at + 16));
    files.set(name, bytes.toString('utf8'));
    at += 46 + nameSize;
  }
  return files;
}
