import { describe, expect, it } from 'vitest';
import { addressOfOrder, ensureLink } from '../../server/arrivals/queries-links.ts';
import { makeSessions } from '../../server/plumbing/sessions.ts';
import { contentsOf } from '../support/contents.ts';
import { knownNames } from '../support/known-names.ts';
import { makeCustomer, makeLine, makeOrder } from '../support/orders.ts';
import { makeCulture, makeSpecies } from '../support/stock.ts';
import { cast, testNow } from '../support/test-app.ts';
import { Visitor } from '../support/visitor.ts';
import { furnishedBench, gets, posts, type Walk } from '../support/walk.ts';

// OWASP ASVS 5.0, 8.2.2 and 8.4.1: what is not yours, or is something else, is not there.

/** That nothing was there is kept under the form's key too. */
const contents = ({ sqlite }: Walk) => ({ ...contentsOf(sqlite), form_keys: '' });

const isOpen = (text: string) => /:\w/.test(text);
const odd = [
  '0',
  '-1',
  '2147483648',
  '9007199254740993',
  '99999999999999999999',
  '1.0',
  '01',
  '1e0',
  'x',
  ' 1',
  '%2e%2e',
  "1'",
  '__proto__',
];

/** Every address with one of its parameters replaced. */
function swapped(t: Walk, path: string, values: readonly string[]): string[] {
  const parts = t.at({ path }).split('/');
  const pattern = path.split('/');
  return pattern.flatMap((part, at) =>
    isOpen(part)
      ? values.map((value) =>
          parts.map((one, place) => (place === at ? part.replace(/:\w+/, value) : one)).join('/'),
        )
      : [],
  );
}

/** Things of every kind beside the furnished ones: their numbers and codes are foreign everywhere else. */
function others(t: Walk) {
  const species = makeSpecies(t.db);
  const culture = makeCulture(t.db, { speciesId: species.id });
  const customer = makeCustomer(t.db, {
    name: 'Foreign Person',
    email: 'foreign@example.org',
    city: 'Foreignville',
  });
  const order = makeOrder(t.db, { customerId: customer.id, note: 'a foreign note' });
  makeLine(t.db, order.id, species.id);
  return { species, culture, customer, order };
}

/**
 * What may be answered beside "not found": that a customer's address was guessed at too often, and that a number which
 * could be one has nothing to end any more. Nothing changes either way.
 */
const isSafe = (method: string, address: string, status: number) =>
  (status === 429 && address.startsWith('/o/')) ||
  (method === 'POST' && address.includes('/2147483648') && (status === 303 || status === 409));

describe('a number or name in an address', () => {
  it('that is none is not there, on every page and for every form', async () => {
    const t = await furnishedBench();
    await t.owner.csrf();
    const before = contents(t);
    const wrong: string[] = [];
    const isService = (path: string) => path.startsWith('/static') || path.startsWith('/calendar');
    for (const { path, method } of t.app.surface) {
      if (!isOpen(path) || isService(path) || !['GET', 'POST'].includes(method)) continue;
      const pair = Math.abs([...path].reduce((sum, sign) => sum + sign.charCodeAt(0), 0));
      const values =
        process.env.PAYLOADS === 'all'
          ? odd
          : [0, 4, 9].map((step) => odd[(pair + step) % odd.length] ?? 'x');
      for (const address of swapped(t, path, values)) {
        const { status } = method === 'GET' ? await t.owner.get(address) : await t.owner.post(address, {});
        if (status !== 404 && !isSafe(method, address, status)) wrong.push(`${method} ${address}: ${status}`);
      }
    }
    expect(wrong).toEqual([]);
    expect(contents(t)).toEqual(before);
  });

  it("of something else's parts is not there: two numbers in one address belong together", async () => {
    const t = await furnishedBench();
    const { culture, order } = others(t);
    const wrong: string[] = [];
    const foreign: [RegExp, string][] = [
      [/^\/cultures\/:code(?=\/.*:)/, `/cultures/${culture.code}`],
      [/^\/orders\/:number(?=\/.*:)/, `/orders/${order.number}`],
    ];
    const before = contents(t);
    let asked = 0;
    for (const { path, method } of t.app.surface)
      for (const [pattern, start] of foreign) {
        if (!pattern.test(path) || method === 'HEAD') continue;
        const rest = t.at({ path }).split('/').slice(3).join('/');
        const address = `${start}/${rest}`;
        const { status } = method === 'GET' ? await t.owner.get(address) : await t.owner.post(address, {});
        asked += 1;
        // A thing that can be ended once answers so too where it is another order's.
        if (status !== 404 && status !== 409) wrong.push(`${method} ${address}: ${status}`);
      }
    expect(asked).toBeGreaterThan(6);
    expect(wrong).toEqual([]);
    expect(contents(t)).toEqual(before);
  });

  it("of another person's session, account or calendar ends and shows nothing", async () => {
    const t = await furnishedBench();
    const sessions = makeSessions(t.db, t.clock);
    const third = new Visitor(t.app, await sessions.begin(cast.owner.id, 'other phone'));
    const id = t.sqlite
      .prepare("SELECT id FROM sessions WHERE device = 'other phone'")
      .pluck()
      .get() as string;
    expect((await t.helper.post(`/account/sessions/${id}/end`)).status).toBe(404);
    for (const { path } of posts(t).filter(({ path }) => path.startsWith('/people/')))
      expect([path, (await t.helper.post(t.at({ path }), {})).status]).toEqual([path, 403]);
    expect((await third.get('/people')).status).toBe(200);
    expect((await t.helper.get('/account')).text).not.toContain('other phone');
  });
});

describe("a customer's link", () => {
  it('shows its own order and nothing of anybody else, whatever is asked beside it', async () => {
    const t = await furnishedBench();
    const { order, customer } = others(t);
    ensureLink(t.db, order, { personId: cast.owner.id, now: testNow });
    const theirs = addressOfOrder(t.db, order.id, { base: '', now: testNow }) ?? '';
    const mine = t.at({ path: '/o/:token' });
    const { query } = await knownNames(t);
    const words = [customer.name, customer.email, customer.city, order.note, 'Hal Helper'];
    const parameters = new URLSearchParams(query.map((name) => [name, String(order.id)]));
    for (const address of [mine, `${mine}?${parameters}`]) {
      const { text, status } = await t.outsider.get(address);
      expect(status).toBe(200);
      expect(words.filter((word) => text.includes(word))).toEqual([]);
    }
    // Half of one and half of the other is neither.
    const [a = '', b = ''] = [mine, theirs].map((one) => one.slice('/o/'.length));
    for (let cut = 8; cut < a.length; cut += 8)
      expect((await t.outsider.get(`/o/${a.slice(0, cut)}${b.slice(cut)}`)).text).not.toContain(
        customer.name,
      );
    const answers = await Promise.all(
      gets(t)
        .filter(({ access }) => access !== 'anyone')
        .slice(0, 20)
        .map(({ path }) => new Visitor(t.app, null).get(t.at({ path }), { Referer: mine })),
    );
    expect(new Set(answers.map(({ status }) => status))).toEqual(new Set([303]));
  });

  it('has nobody else in its words: no notes of ours, no cost, no name of who works here', async () => {
    const t = await furnishedBench();
    t.sqlite.exec("UPDATE orders SET note = 'for our eyes only'; UPDATE customers SET note = 'pays late'");
    t.sqlite.exec("UPDATE species SET cautions = cautions; UPDATE cultures SET note = 'sick once'");
    const { text } = await t.outsider.get(t.at({ path: '/o/:token' }));
    for (const word of [
      'for our eyes only',
      'pays late',
      'sick once',
      'Olive Owner',
      'EX-',
      '/sign-in',
      '/orders/',
    ])
      expect([word, text.includes(word)]).toEqual([word, false]);
  });
});
