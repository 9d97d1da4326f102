import { beforeAll, expect, test } from 'vitest';
import { addressOfOrder, ensureLink } from '../../server/arrivals/queries-links.ts';
import { appendEntry } from '../../server/cultures/queries-diary.ts';
import { makeCounted } from '../support/counted-stock.ts';
import { makeInvoice } from '../support/invoices.ts';
import { makeCustomer, makeLine, makeOrder } from '../support/orders.ts';
import { makeSpecies } from '../support/stock.ts';
import { type TestApp, testApp, testNow } from '../support/test-app.ts';

/** Tables that grow with the years: no page may read one from end to end. */
const growing = [
  'diary',
  'contacts',
  'estimate_points',
  'population_states',
  'allocations',
  'order_lines',
  'order_history',
  'audit',
  'personal_reads',
  'form_keys',
  'sessions',
  'sign_in_tries',
  'import_prints',
  'arrival_reports',
  'arrival_losses',
  'order_links',
  'climate_readings',
  'climate_days',
  'care_versions',
  'care_version_texts',
  'care_version_terms',
  'order_care_sheets',
  'invoice_lines',
  'invoice_taxes',
  'payments',
  'parcel_choices',
];

let t: TestApp;
const seen = new Set<string>();

/** Every statement that is prepared from here on, with its plan asked for at the end. */
function listen() {
  const prepare = t.sqlite.prepare.bind(t.sqlite);
  t.sqlite.prepare = ((sql: string) => {
    seen.add(sql);
    return prepare(sql);
  }) as typeof t.sqlite.prepare;
  return () => {
    t.sqlite.prepare = prepare as typeof t.sqlite.prepare;
  };
}

/** The names a statement gives to tables: `FROM diary d`, `join "cultures" "other"`. */
function aliases(sql: string): Map<string, string> {
  const names = new Map<string, string>();
  for (const [, table = '', alias] of sql.matchAll(
    /(?:from|join)\s+"?(\w+)"?(?:\s+(?:as\s+)?"?(\w+)"?)?/gi,
  )) {
    names.set(table, table);
    if (alias) names.set(alias, table);
  }
  return names.set('d', 'diary').set('r', 'diary');
}

function scans(sql: string): string[] {
  const plan = t.sqlite.prepare(`EXPLAIN QUERY PLAN ${sql}`);
  const rows = plan.all(...Array.from({ length: (sql.match(/\?/g) ?? []).length }, () => 1)) as {
    detail: string;
  }[];
  const names = aliases(sql);
  return rows
    .map((row) => /^SCAN (\w+)(?! USING (?:COVERING )?INDEX)/.exec(row.detail)?.[1] ?? '')
    .filter((name) => growing.includes(names.get(name) ?? name));
}

beforeAll(async () => {
  t = await testApp();
  const culture = makeCounted(t.db, makeSpecies(t.db).id, 140);
  appendEntry(t.db, {
    cultureId: culture.id,
    onDay: '2026-11-20',
    kind: 'check',
    mitesSeen: false,
    via: 'page',
    madeAt: testNow,
  });
  const customer = makeCustomer(t.db);
  const order = makeOrder(t.db, { customerId: customer.id, dispatchOn: '2026-12-01' });
  makeLine(t.db, order.id, culture.speciesId);
  makeInvoice(t.db, order.id);
  ensureLink(t.db, order, { personId: null, now: testNow });
  const pageOfCustomer = addressOfOrder(t.db, order.id, { base: '', now: testNow }) ?? '';
  const stop = listen();
  const at = `/cultures/${culture.code}`;
  for (const path of [
    '/round',
    '/cultures',
    at,
    `${at}/check`,
    `${at}/put-off`,
    `${at}/count`,
    `${at}/split`,
    `${at}/write`,
    `${at}/trace`,
    `${at}/trace/notices`,
    '/climate',
    '/climate/1',
    '/climate/1?span=2',
    '/surplus',
    '/surplus/count-next?show=all',
    '/orders',
    `/orders/${order.number}`,
    `/orders/${order.number}/propose`,
    '/orders/propose?day=2026-12-01',
    '/parcels/arrivals',
    pageOfCustomer,
    '/invoices',
    '/invoices?show=overdue',
    '/invoices/1',
    '/customers/forget',
    `/customers/${customer.id}/erase`,
    '/customers',
    `/customers/${customer.id}`,
    '/species',
    `/species/${culture.speciesId}/care?language=de`,
    '/people',
    '/account',
  ]) {
    const { status } = await t.owner.get(path);
    expect([path, status]).toEqual([path, 200]);
  }
  await t.owner.post(`${at}/all-well`);
  await t.owner.post(`${at}/count`, { method: 'visible', counted: 12, onDay: '2026-11-25' });
  stop();
}, 60_000);

test('the pages have asked something', () => {
  expect([...seen].filter((sql) => /^\s*(select|with)/i.test(sql)).length).toBeGreaterThan(40);
});

test('no page reads a growing table from end to end', () => {
  const slow = [...seen]
    .filter((sql) => /^\s*(select|with|update|delete)/i.test(sql))
    .flatMap((sql) => scans(sql).map((table) => `${table}: ${sql.replace(/\s+/g, ' ').slice(0, 220)}`));
  expect(slow).toEqual([]);
});

test('the check would notice one', () => {
  expect(scans('select count(*) from "diary" where note = ?')).toEqual(['diary']);
});
