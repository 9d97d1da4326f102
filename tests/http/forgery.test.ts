import request from 'supertest';
import { describe, expect, it } from 'vitest';
import { contentsOf } from '../support/contents.ts';
import { testApp } from '../support/test-app.ts';
import { Visitor } from '../support/visitor.ts';
import { furnishedBench, posts, type Walk } from '../support/walk.ts';

/** The ways a form can come that is not ours: OWASP ASVS 5.0, 3.5.1 to 3.5.3. */
const forgeries: [string, (t: Walk, path: string) => Promise<{ status: number }>, number?][] = [
  ['without a token', (t, path) => t.owner.post(path, {}, { csrf: '' })],
  ['with a made-up token', (t, path) => t.owner.post(path, {}, { csrf: 'abcdefgh-0123456789' })],
  [
    "with another browser's token",
    async (t, path) => t.owner.post(path, {}, { csrf: await new Visitor(t.app, null).csrf() }),
  ],
  ['from another site', (t, path) => t.owner.post(path, {}, { headers: { 'Sec-Fetch-Site': 'cross-site' } })],
  ['from a neighbour', (t, path) => t.owner.post(path, {}, { headers: { 'Sec-Fetch-Site': 'same-site' } })],
  [
    'from a foreign origin',
    (t, path) => t.owner.post(path, {}, { headers: { Origin: 'https://example.org' } }),
  ],
  ['from no origin', (t, path) => t.owner.post(path, {}, { headers: { Origin: 'null' } })],
  // What another site's page may send without asking first: it is not even read.
  ['as plain text', (t, path) => t.owner.post(path, {}, { headers: { 'Content-Type': 'text/plain' } }), 415],
];

describe('a form that is not ours', () => {
  it.each(forgeries)('%s is refused at every address, sign-in too', async (_how, send, refusal = 403) => {
    const t = await furnishedBench();
    await t.owner.csrf();
    const before = contentsOf(t.sqlite);
    const wrong: string[] = [];
    for (const address of posts(t)) {
      const { status } = await send(t, t.at(address));
      if (status !== refusal) wrong.push(`${address.path}: ${status}`);
    }
    expect(wrong).toEqual([]);
    expect(contentsOf(t.sqlite)).toEqual(before);
  });

  it('dressed up as a read changes nothing', async () => {
    const t = await testApp();
    const answer = await t.owner.get('/people/person-helper/deactivate?_method=POST', {
      'X-HTTP-Method-Override': 'POST',
    });
    expect(answer.status).toBe(404);
    for (const method of ['put', 'patch', 'delete'] as const)
      expect((await request(t.app.server)[method]('/people/person-helper/deactivate')).status).toBe(404);
  });
});

describe('a form of ours', () => {
  it('is taken from its own origin, also behind a proxy that names another host', async () => {
    const t = await testApp({ BASE_URL: 'http://bench.example.org', PLAIN_HTTP: 'yes' });
    const headers = { Origin: 'http://bench.example.org' };
    const form = { name: 'Olive Owner', scheme: 'dark' };
    expect((await t.owner.save('/account', form, '/account', { headers })).status).toBe(303);
    const same = { 'Sec-Fetch-Site': 'same-origin' };
    expect((await t.owner.save('/account', form, '/account', { headers: same })).status).toBe(303);
  });

  it.each(['empty', 'nonsense'])('that is %s is answered without a fault at every address', async (kind) => {
    const t = await furnishedBench();
    const fields = kind === 'empty' ? {} : nonsense;
    const wrong: string[] = [];
    for (const address of posts(t)) {
      if (/sign-out|\/end|deactivate|end-sessions/.test(address.path)) continue;
      const { status } = await t.owner.post(t.at(address), fields);
      if (status >= 500) wrong.push(`${address.path}: ${status}`);
    }
    expect(wrong).toEqual([]);
  });
});

const nonsense = {
  name: '\u0000\u202e<b>',
  id: '__proto__',
  role: ['owner', 'helper'],
  onDay: '2026-02-30',
  counted: '1e999',
  groups: '-1',
  price: 'NaN',
  note: '=cmd|x',
  version: '99999999999999999999',
  token: 'x'.repeat(300),
  constructor: 'x',
};
