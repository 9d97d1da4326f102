import { describe, expect, it } from 'vitest';
import { forgetReads } from '../../server/people/queries-reads.ts';
import { makeCustomer, makeOrder } from '../support/orders.ts';
import { cast, type TestApp, testApp, testNow } from '../support/test-app.ts';

const day = 86_400_000;
const written = ({ sqlite }: TestApp) =>
  sqlite.prepare('SELECT person_id, subject, way, on_day FROM personal_reads ORDER BY id').raw().all();

async function withCustomer() {
  const t = await testApp();
  const { id } = makeCustomer(t.db);
  makeOrder(t.db, { customerId: id });
  return t;
}

// That every page about a person writes a line is asked for in tests/http/reads.test.ts.
describe('what somebody reads about a person', () => {
  it('is one line for each person, matter, way and day', async () => {
    const t = await withCustomer();
    for (const path of ['/customers/1', '/customers/1?page=1', '/customers/1/edit', '/customers/1/data.zip'])
      expect((await t.owner.get(path)).status).toBe(200);
    for (const path of ['/customers/2', '/customers/x', '/orders/9'])
      expect((await t.owner.get(path)).status).toBe(404);
    expect((await t.helper.get('/customers/1')).status).toBe(403);
    await t.helper.get('/orders/1');
    await t.owner.get('/records/export/customers.csv');
    await t.owner.get('/records/export/species.csv');
    t.clock.forward(1);
    await t.owner.get('/customers/1');
    const owner = cast.owner.id;
    expect(written(t)).toEqual([
      [owner, 'customer 1', 'page', '2026-11-25'],
      [owner, 'customer 1', 'file', '2026-11-25'],
      [cast.helper.id, 'order 1', 'page', '2026-11-25'],
      [owner, 'export customers.csv', 'file', '2026-11-25'],
      [owner, 'customer 1', 'page', '2026-11-26'],
    ]);
  });

  it("is shown where it cannot be written down, and is in the customer's own data", async () => {
    const t = await withCustomer();
    await t.owner.get('/orders/1');
    expect((await t.owner.bytes('/customers/1/data.zip')).body.toString('latin1')).toContain(
      '"personal_reads": [\n   {',
    );
    t.sqlite.pragma('query_only = 1');
    try {
      expect((await t.owner.get('/customers/1')).status).toBe(200);
    } finally {
      t.sqlite.pragma('query_only = 0');
    }
  });

  it('is kept as it is for 400 days, and then forgotten', async () => {
    const t = await withCustomer();
    await t.owner.get('/customers/1');
    expect(() => t.sqlite.exec("UPDATE personal_reads SET person_id = 'person-helper'")).toThrow(
      'is not changed',
    );
    expect(() => t.sqlite.exec('DELETE FROM personal_reads')).toThrow('is kept for 400 days');
    const add = t.sqlite.prepare(
      "INSERT INTO personal_reads VALUES (NULL, '2027-12-31', ?, 'person-owner', 'orders', 'page')",
    );
    add.run(testNow + 400 * day - 1);
    expect(forgetReads(t.db, testNow + 500 * day)).toBe(0);
    t.sqlite.exec(
      `INSERT INTO personal_reads VALUES (NULL, '2028-01-01', ${testNow + 400 * day}, 'person-owner', 'orders', 'page')`,
    );
    expect(forgetReads(t.db, testNow + 399 * day)).toBe(0);
    expect(forgetReads(t.db, testNow + 400 * day)).toBe(1);
  });

  it('is shown to owners alone, by person, words and days, and as CSV', async () => {
    const t = await withCustomer();
    await t.owner.get('/customers/1');
    await t.helper.get('/orders/1');
    t.clock.forward(1);
    await t.helper.get('/orders');
    const rows = async (query: string) => {
      const { text } = await t.owner.get(`/settings/reads?${query}`);
      return [...text.matchAll(/>(customer 1|order 1|orders)</g)].map(([, what]) => what);
    };
    expect(await rows('')).toEqual(['orders', 'order 1', 'customer 1']);
    expect(await rows(`who=${cast.helper.id}`)).toEqual(['orders', 'order 1']);
    expect(await rows('subject=customer')).toEqual(['customer 1']);
    expect(await rows('from=2026-11-26&until=2026-11-26')).toEqual(['orders']);
    expect(await rows('subject=%25')).toEqual([]);
    expect(await rows('before=2')).toEqual(['customer 1']);
    const csv = await t.owner.get('/settings/reads.csv?subject=order');
    expect(csv.text).toContain('2,2026-11-25T11:00:00.000Z,Hal Helper,order 1,page');
    for (const path of ['/settings/reads', '/settings/reads.csv'])
      expect((await t.helper.get(path)).status).toBe(403);
    expect((await t.owner.get('/settings/changes')).text).toContain('href="/settings/reads"');
  });
});
