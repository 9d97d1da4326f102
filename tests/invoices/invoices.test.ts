import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { insertAmends } from '../../server/arrivals/queries-amends.ts';
import { writeInvoice } from '../../server/invoices/write.ts';
import { orderById } from '../../server/orders/queries.ts';
import {
  invoiceBuyers,
  invoiceLines,
  invoices,
  invoiceTaxes,
  orders,
  payments,
} from '../../server/schema/tables.ts';
import { readBusiness } from '../../server/settings/queries.ts';
import { readCsv } from '../support/csv.ts';
import { makeCustomer } from '../support/orders.ts';
import { cast, type TestApp, testNow, testToday } from '../support/test-app.ts';
import { all, bench, confirmed, seenOn, settings, vat, write } from './bench.ts';

describe('an invoice', () => {
  it('is written from an order with the next number, and adds up', async () => {
    const t = await bench();
    confirmed(t);
    const asked = await t.owner.get('/orders/1/invoice');
    expect(asked.text).toContain('RE-0007');
    expect(asked.text).toContain('VAT 19\u00a0%, in the prices');
    const made = await write(t, 1);
    expect(made.headers.location).toBe('/invoices/7');
    expect(all(t)).toMatchObject([
      { id: 7, number: 'RE-0007', netMinor: 2521, taxMinor: 479, totalMinor: 3000, dueOn: '2026-12-09' },
    ]);
    const shown = await t.owner.get('/invoices/7');
    expect(shown.text).toContain('Invoice RE-0007');
    expect(shown.text).toContain('Carla Customer');
    // a second one is refused while this one stands
    expect((await write(t, 1)).status).toBe(409);
    expect((await t.owner.get('/orders/1/invoice')).headers.location).toBe('/invoices/7');
    expect((await t.helper.get('/invoices/7')).status).toBe(403);
  });

  it('says only what was looked at: anything else is shown again first', async () => {
    const t = await bench();
    const { id, number } = confirmed(t);
    const asked = (await t.owner.get(`/orders/${number}/invoice`)).text;
    const seen = /name="seen" value="(\w+)"/.exec(asked)?.[1] ?? '';
    t.db.update(orders).set({ postageMinor: 600 }).where(eq(orders.id, id)).run();
    const changed = await t.owner.post(`/orders/${number}/invoice`, { suppliedOn: testToday, seen });
    expect(changed.status).toBe(409);
    expect(changed.text).toContain('not what you looked at');
    expect(changed.text).toContain('€31.00');
    expect(all(t)).toEqual([]);
    // a day before the tax began is another invoice too
    const again = /name="seen" value="(\w+)"/.exec(changed.text)?.[1] ?? '';
    const before = { suppliedOn: '2025-12-31', seen: again };
    expect((await t.owner.post(`/orders/${number}/invoice`, before)).status).toBe(409);
    const same = { suppliedOn: '2026-11-20', seen: again };
    expect((await t.owner.post(`/orders/${number}/invoice`, same)).status).toBe(303);
  });

  it('is not written for a draft, nor for a day that is none', async () => {
    const t = await bench();
    confirmed(t, { state: 'draft' });
    expect((await write(t, 1)).status).toBe(409);
    confirmed(t);
    const wrong = await write(t, 2, '2026-02-30');
    expect(wrong.status).toBe(422);
    expect(wrong.text).toContain('value="2026-02-30"');
    expect(all(t)).toEqual([]);
  });

  it('takes the taxes of its day of supply, and none where the owner says why', async () => {
    const t = await bench();
    await t.owner.post('/settings/invoices/taxes/1/edit', {
      ...vat,
      untilOn: '2026-11-30',
      version:
        /name="version" value="(\w+)"/.exec(
          (await t.owner.get('/settings/invoices/taxes/1/edit')).text,
        )?.[1] ?? '',
    });
    const added = { ...vat, name: 'Sales tax', rate: '8,875', mode: 'added', fromOn: '2026-12-01' };
    await t.owner.post('/settings/invoices/taxes', added);
    for (const day of [testToday, '2026-12-02']) await write(t, confirmed(t).number, day);
    const exemptDe = 'Gemäß Kleinunternehmerregelung wird keine Umsatzsteuer berechnet.';
    await t.owner.post('/settings/invoices', {
      ...settings,
      exempt: 'yes',
      exemptDe,
      version: await seenOn(t),
    });
    await write(t, confirmed(t).number);
    expect(all(t).map((one) => [one.netMinor, one.taxMinor, one.totalMinor, one.exemptWords])).toEqual([
      [2521, 479, 3000, ''],
      [3000, 266, 3266, ''], // 8.875 % of 30.00 is 2.6625
      [3000, 0, 3000, exemptDe],
    ]);
  });

  it('gets its number among 64 at once without a gap or a number twice', async () => {
    const t = await bench();
    const customerId = makeCustomer(t.db).id;
    const numbers = Array.from({ length: 64 }, () => confirmed(t, { customerId }).number);
    await t.owner.csrf();
    const answers = await Promise.all(numbers.map((number) => write(t, number)));
    expect(answers.map(({ status }) => status)).toEqual(Array(64).fill(303));
    expect(all(t).map(({ id }) => id)).toEqual(Array.from({ length: 64 }, (_, place) => 7 + place));
    expect(new Set(all(t).map(({ orderId }) => orderId)).size).toBe(64);
  });

  it('leaves no gap where writing it fails at any statement', async () => {
    const t = await bench();
    const orderId = confirmed(t).id;
    const by = { business: readBusiness(t.db), today: testToday, personId: cast.owner.id, now: testNow };
    const before = t.sqlite.serialize();
    for (const table of ['invoice_lines', 'invoice_taxes', 'invoice_buyers', 'invoices', 'audit']) {
      t.sqlite.exec(
        `CREATE TEMP TRIGGER stop AFTER INSERT ON main.${table} BEGIN SELECT RAISE(ABORT, 'stop'); END`,
      );
      const writing = () => t.db.transaction((tx) => writeInvoice(tx, orderById(tx, orderId), testToday, by));
      expect(writing, table).toThrow('stop');
      t.sqlite.exec('DROP TRIGGER temp.stop');
    }
    expect(t.sqlite.serialize().equals(before)).toBe(true);
    await write(t, 1);
    expect(all(t).map(({ number }) => number)).toEqual(['RE-0007']);
  });

  it('is never changed, deleted or added to: the database refuses', async () => {
    const t = await bench();
    confirmed(t);
    await write(t, 1);
    const tries = [
      () => t.db.update(invoices).set({ totalMinor: 1 }).run(),
      () => t.db.delete(invoices).run(),
      () => t.db.update(invoiceLines).set({ words: 'x' }).run(),
      () => t.db.delete(invoiceLines).run(),
      () => t.db.update(invoiceTaxes).set({ taxMinor: 1 }).run(),
      () => t.db.delete(invoiceTaxes).run(),
      () => t.db.update(invoiceBuyers).set({ name: 'x' }).run(),
      () => t.db.delete(invoiceBuyers).run(),
      () =>
        t.db
          .insert(invoiceLines)
          .values({ ...t.db.select().from(invoiceLines).all()[0]!, position: 9 })
          .run(),
      () =>
        t.db
          .insert(invoices)
          .values({ ...all(t)[0]!, id: 9, number: 'RE-0009' })
          .run(),
      () =>
        t.db
          .insert(invoices)
          .values({ ...all(t)[0]!, id: 8, number: 'RE-0008' })
          .run(),
    ];
    for (const [index, attempt] of tries.entries()) expect(attempt, String(index)).toThrow();
    expect(all(t)).toHaveLength(1);
  });
});

describe('a credit note', () => {
  it('takes all of an invoice back, and the order can have another', async () => {
    const t = await bench();
    confirmed(t);
    await write(t, 1);
    expect((await t.owner.get('/invoices/7/credit')).status).toBe(200);
    const made = await t.owner.post('/invoices/7/credit', { extent: 'whole', reason: 'wrong address' });
    expect(made.headers.location).toBe('/invoices/8');
    expect((await t.owner.get('/invoices/8')).text).toContain('Invoice RE-0007');
    expect((await t.owner.post('/invoices/7/credit', { extent: 'whole', reason: 'again' })).status).toBe(409);
    expect((await t.owner.post('/invoices/8/credit', { extent: 'whole', reason: 'again' })).status).toBe(409);
    await write(t, 1);
    expect(all(t).map(({ kind, totalMinor, taxMinor }) => [kind, totalMinor, taxMinor])).toEqual([
      ['invoice', 3000, 479],
      ['credit', -3000, -479],
      ['invoice', 3000, 479],
    ]);
  });

  it('gives back a part with the tax it holds, never more than is left', async () => {
    const t = await bench();
    confirmed(t);
    await write(t, 1);
    const part = (fields: Record<string, string>) =>
      t.owner.post('/invoices/7/credit', { extent: 'part', reason: 'two dead', ...fields });
    expect((await part({})).text).toContain('Write an amount.');
    expect((await part({ goods: '25.01' })).text).toContain('At most 25.00 is left of it.');
    expect((await part({ carriage: '5.01' })).text).toContain('At most 5.00 is left of it.');
    expect((await part({ goods: '11.90' })).status).toBe(303);
    expect(all(t)[1]).toMatchObject({
      netMinor: -1000,
      taxMinor: -190,
      totalMinor: -1190,
      reason: 'two dead',
    });
    expect((await part({ goods: '13.11' })).text).toContain('At most 13.10 is left of it.');
    expect((await t.owner.post('/invoices/7/credit', { extent: 'whole', reason: 'x' })).status).toBe(422);
    expect((await part({ goods: '13.10', carriage: '5' })).status).toBe(303);
    expect(all(t).reduce((sum, one) => sum + one.totalMinor, 0)).toBe(0);
  });

  it('is proposed where a refund was written down, and then no more', async () => {
    const t = await bench();
    const { id: orderId } = confirmed(t, { state: 'sent' });
    await write(t, 1);
    const amends = {
      orderId,
      kind: 'refund' as const,
      amountMinor: 250,
      newOrderId: null,
      reason: 'one dead',
    };
    insertAmends(t.db, { ...amends, madeBy: null, madeAt: testNow });
    expect((await t.owner.get('/orders/1')).text).toContain('/invoices/7/credit?amends=1');
    const asked = (await t.owner.get('/invoices/7/credit?amends=1')).text;
    expect(asked).toContain('value="2.50"');
    expect(asked).toContain('value="one dead"');
    await t.owner.post('/invoices/7/credit', {
      extent: 'part',
      goods: '2.50',
      reason: 'one dead',
      amends: 1,
    });
    expect(all(t)[1]?.amendsId).toBe(1);
    expect((await t.owner.get('/orders/1')).text).not.toContain('credit?amends=1');
  });

  it('is asked for where the order was cancelled or changed', async () => {
    const t = await bench();
    confirmed(t);
    await write(t, 1);
    t.db.update(orders).set({ postageMinor: 600 }).run();
    expect((await t.owner.get('/orders/1')).text).toContain('has changed since the invoice');
    t.db.update(orders).set({ state: 'cancelled' }).run();
    expect((await t.owner.get('/orders/1')).text).toContain('was cancelled, and its invoice still stands');
  });
});

describe('payments', () => {
  const pay = (t: TestApp, more: Record<string, string | number> = {}) =>
    t.owner.post('/orders/1/payments', { kind: 'payment', amount: '10', way: 1, paidOn: testToday, ...more });

  it('come in parts, are too much, go back, and are taken back', async () => {
    const t = await bench();
    confirmed(t);
    await write(t, 1);
    expect((await pay(t)).status).toBe(303);
    expect((await t.owner.get('/orders/1')).text).toMatch(/Open.*€20\.00/s);
    await pay(t, { amount: '25' });
    const over = (await t.owner.get('/orders/1')).text;
    expect(over).toContain('That is €5.00 too much.');
    expect(over).toMatch(/Paid too much.*€5\.00/s);
    expect((await t.owner.get('/orders/1/payments')).text).toContain('value="5.00"');
    expect((await pay(t, { kind: 'refund', amount: '35.01' })).text).toContain('more than was paid');
    expect((await pay(t, { kind: 'refund', amount: '5' })).status).toBe(303);
    expect((await t.owner.get('/orders/1')).text).toMatch(/Open.*€0\.00/s);
    expect((await t.owner.post('/orders/1/payments/2/end')).status).toBe(303);
    expect((await t.owner.post('/orders/1/payments/2/end')).status).toBe(409);
    expect((await t.owner.get('/orders/1')).text).toMatch(/Open.*€25\.00/s);
    expect(() => t.db.update(payments).set({ amountMinor: 1 }).run()).toThrow();
  });

  it('are refused where they make no sense', async () => {
    const t = await bench();
    confirmed(t);
    for (const [more, words] of [
      [{ amount: '0' }, 'above zero'],
      [{ amount: '1e9' }, 'Write an amount'],
      [{ amount: '-1' }, 'cannot be below zero'],
      [{ way: 99 }, 'Choose a way from the list'],
      [{ paidOn: '2026-11-26' }, 'still to come'],
    ] as const) {
      const answer = await pay(t, more);
      expect([answer.status, answer.text.includes(words)], words).toEqual([422, true]);
    }
  });

  it('decide what is open and overdue in the list', async () => {
    const t = await bench();
    for (let n = 0; n < 3; n += 1) await write(t, confirmed(t).number);
    await pay(t, { amount: '30' });
    const listed = async (query: string) =>
      [...(await t.owner.get(`/invoices${query}`)).text.matchAll(/>(RE-\d+)<\/a>/g)].map(
        ([, number]) => number,
      );
    expect(await listed('')).toEqual(['RE-0009', 'RE-0008', 'RE-0007']);
    expect(await listed('?show=open')).toEqual(['RE-0009', 'RE-0008']);
    expect(await listed('?show=overdue')).toEqual([]);
    t.clock.forward(15);
    expect(await listed('?show=overdue')).toEqual(['RE-0009', 'RE-0008']);
    expect(await listed('?from=2026-11-26')).toEqual([]);
  });
});

describe('the ledger', () => {
  it('has every line, tax and payment of a period, safe to open and read again as it was', async () => {
    const t = await bench();
    const customerId = makeCustomer(t.db, { name: '=HYPERLINK("x")' }).id;
    confirmed(t, { customerId });
    await write(t, 1);
    await t.owner.post('/invoices/7/credit', { extent: 'part', goods: '2.50', reason: 'one dead' });
    const paid = { kind: 'payment', amount: '27.50', way: 2, paidOn: testToday, note: '+49 call back' };
    await t.owner.post('/orders/1/payments', paid);
    const file = await t.owner.get(`/invoices/ledger.csv?from=2026-11-01&to=${testToday}`);
    expect(file.headers['content-type']).toBe('text/csv; charset=utf-8');
    expect(file.text).toContain(`"'=HYPERLINK(""x"")"`);
    const rows = readCsv(file.text);
    expect(rows.map((row) => [row.Row, row.Document, row.Base, row.Amount, row.Rate])).toEqual([
      ['line', 'RE-0007', '', '25.00', ''],
      ['line', 'RE-0007', '', '5.00', ''],
      ['tax', 'RE-0007', '25.21', '4.79', '19'],
      ['line', 'RE-0008', '', '-2.50', ''],
      ['tax', 'RE-0008', '-2.10', '-0.40', '19'],
      ['payment', '', '', '27.50', ''],
    ]);
    expect(rows[3]?.Credits).toBe('RE-0007');
    expect(rows[5]).toMatchObject({ Way: 'Cash', Note: '+49 call back', Customer: '=HYPERLINK("x")' });
    expect(readCsv((await t.owner.get('/invoices/ledger.csv?from=2025-01-01&to=2025-12-31')).text)).toEqual(
      [],
    );
    const wrong = await t.owner.get('/invoices/ledger.csv?from=2026-12-01&to=2026-11-01');
    expect([wrong.status, wrong.text.includes('not before the first one')]).toEqual([422, true]);
  });
});

describe('settings of invoices', () => {
  it('keep what was typed when something is wrong, and two people who edit at once are told', async () => {
    const t = await bench();
    const version = await seenOn(t);
    const wrong = await t.owner.post('/settings/invoices', { ...settings, prefix: 'RE-2026', version });
    expect(wrong.status).toBe(422);
    expect(wrong.text).toContain('value="RE-2026"');
    expect((await t.owner.post('/settings/invoices', { ...settings, exempt: 'yes', version })).status).toBe(
      422,
    );
    expect((await t.owner.post('/settings/invoices', { ...settings, termDays: 7, version })).status).toBe(
      303,
    );
    const late = await t.owner.post('/settings/invoices', { ...settings, termDays: 30, version });
    expect(late.status).toBe(409);
    expect(late.text).toContain('value="30"');
  });

  it('add ways of paying and stop offering them, but never the last', async () => {
    const t = await bench();
    expect((await t.owner.post('/settings/invoices/ways', { name: 'cash' })).text).toContain(
      'with this name',
    );
    expect((await t.owner.post('/settings/invoices/ways', { name: 'Card' })).status).toBe(303);
    const answers = [];
    for (const id of [1, 2, 3, 4]) answers.push(await t.owner.post(`/settings/invoices/ways/${id}/retire`));
    expect(answers.map(({ status }) => status)).toEqual([303, 303, 303, 409]);
    expect((await t.owner.post('/settings/invoices/ways/1/bring-back')).status).toBe(303);
  });

  it('show both versions of a tax that two people edit, and lose neither', async () => {
    const t = await bench();
    const edit = '/settings/invoices/taxes/1/edit';
    const version = /name="version" value="(\w+)"/.exec((await t.owner.get(edit)).text)?.[1] ?? '';
    expect((await t.owner.post(edit, { ...vat, rate: '20', version })).status).toBe(303);
    const second = await t.owner.post(edit, { ...vat, rate: '21', version });
    expect(second.status).toBe(409);
    expect(second.text).toMatch(/Stored now[\s\S]*Rate[\s\S]*20[\s\S]*21/);
    expect((await t.owner.get(edit)).text).toContain('value="20"');
  });

  it('take a tax out and bring it back, and refuse one that makes no sense', async () => {
    const t = await bench();
    for (const [more, words] of [
      [{ rate: '101' }, '100 at most'],
      [{ onGoods: '', onCarriage: '' }, 'animals, postage or both'],
      [{ untilOn: '2025-01-01' }, 'not before the first one'],
    ] as const)
      expect((await t.owner.post('/settings/invoices/taxes', { ...vat, ...more })).text).toContain(words);
    await t.owner.post('/settings/invoices/taxes/1/retire');
    const { number } = confirmed(t);
    expect((await t.owner.get(`/orders/${number}/invoice`)).text).toContain('No tax is set for this day');
    await t.owner.post('/settings/invoices/taxes/1/bring-back');
    expect((await t.owner.get(`/orders/${number}/invoice`)).text).toContain('VAT 19\u00a0%');
    expect(t.db.select().from(invoices).where(eq(invoices.orderId, 1)).all()).toEqual([]);
  });
});
