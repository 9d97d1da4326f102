import request from 'supertest';
import { describe, expect, it } from 'vitest';
import { type TestApp, testApp } from '../support/test-app.ts';
import { furnishedBench, gets } from '../support/walk.ts';

const policy =
  "default-src 'none';script-src 'self';style-src 'self';img-src 'self' data:;font-src 'self';connect-src 'self';form-action 'self';manifest-src 'self';base-uri 'none';frame-ancestors 'none'";

/** OWASP ASVS 5.0, 3.4.1 to 3.4.8: what every answer carries, whatever it is. */
const wanted: Record<string, string> = {
  'content-security-policy': policy,
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'same-origin',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  'x-frame-options': 'DENY',
  // RFC 9309 is for those who ask first; this is for whoever has the answer in hand (common practice of search engines).
  'x-robots-tag': 'noindex, nofollow',
};

type Answered = { status: number; headers: Record<string, string>; text?: string };

function faultsOf(answer: Answered): string[] {
  const faults = Object.entries(wanted)
    .filter(([name, value]) => answer.headers[name] !== value)
    .map(([name]) => `${name}: ${answer.headers[name]}`);
  if (!answer.headers['cache-control']) faults.push('no cache-control');
  for (const telling of ['x-powered-by', 'server']) if (answer.headers[telling]) faults.push(telling);
  return faults;
}

/** Answers of every kind of fault, by their status. */
const faulty: [number, string, (t: TestApp) => Promise<Answered>][] = [
  [303, 'a page for staff', (t) => t.outsider.get('/people')],
  [404, 'an address that is none', (t) => t.outsider.get('/%E0%A4%A')],
  [
    400,
    'a form without its key',
    (t) => t.owner.post('/account', { name: 'x', scheme: 'dark' }, { formKey: '' }),
  ],
  [415, 'a body of JSON', (t) => sent(t, '{"signInName":{"toString":1}}', 'application/json')],
  [415, 'a body of plain text', (t) => sent(t, '_csrf=x', 'text/plain')],
  [403, 'a page of the owner', (t) => t.helper.get('/people')],
  [404, 'nothing there', (t) => t.outsider.get('/nowhere')],
  [404, 'a part of an address that is far too long', (t) => t.owner.get(`/cultures/${'A'.repeat(9_000)}`)],
  [404, 'no such file', (t) => t.outsider.get('/static/nothing.css')],
  [403, 'a file outside', (t) => t.outsider.get('/static/..%2fpackage.json')],
  [
    413,
    'a body of 10 MB',
    (t) => sent(t, `a=${'x'.repeat(10_000_000)}`, 'application/x-www-form-urlencoded'),
  ],
  [415, 'a body of an unknown kind', (t) => sent(t, 'x', 'application/x-unknown')],
  [422, 'a wrong form', (t) => t.owner.post('/account', {})],
  [500, 'a fault of ours', brokenPage],
];

async function sent(t: TestApp, body: string, type: string): Promise<Answered> {
  return request(t.app.server).post('/sign-in').set('Content-Type', type).send(body);
}

async function brokenPage(t: TestApp): Promise<Answered> {
  t.sqlite.pragma('foreign_keys = OFF');
  t.sqlite.exec('DROP TABLE one_time_links');
  return t.owner.get('/people');
}

describe('every answer', () => {
  it('carries the headers that keep a page safe', async () => {
    const t = await furnishedBench();
    const wrong: string[] = [];
    for (const address of gets(t)) {
      for (const visitor of [t.outsider, t.owner]) {
        const answer = await visitor.get(t.at(address));
        // An order's address is its key: it is told to nobody, not even to ourselves.
        const isKey = address.path.startsWith('/o/');
        expect([address.path, answer.headers['referrer-policy'] === 'no-referrer']).toEqual([
          address.path,
          isKey,
        ]);
        const headers = isKey ? { ...answer.headers, 'referrer-policy': 'same-origin' } : answer.headers;
        const faults = faultsOf({ ...answer, headers });
        if (faults.length > 0) wrong.push(`${address.path}: ${faults.join(', ')}`);
      }
    }
    expect(wrong).toEqual([]);
  });

  it.each(faulty)('of %i does so too (%s), and tells nothing', async (status, _what, ask) => {
    const t = await testApp();
    const answer = await ask(t);
    expect(answer.status).toBe(status);
    expect(faultsOf(answer)).toEqual([]);
    if (status >= 400) expect(answer.headers['content-type']).toBe('text/html; charset=utf-8');
    expect(answer.text ?? '').not.toMatch(
      /sqlite|one_time_links|no such table|\/server\/|node_modules|at .*\.ts/i,
    );
  });

  it('with somebody in it is kept by no cache; files with their version are kept long', async () => {
    const t = await testApp();
    for (const answer of [
      await t.owner.get('/people'),
      await t.outsider.get('/sign-in'),
      await t.outsider.get('/nowhere'),
      await t.owner.get('/static/nothing.css'),
      await t.owner.get('/static/..%2fpackage.json'),
    ])
      expect(answer.headers['cache-control']).toBe('no-store');
    expect((await t.outsider.get('/static/base.css')).headers['cache-control']).toContain('immutable');
  });

  it('asks for TLS only where there is TLS', async () => {
    const plain = await testApp();
    expect((await plain.outsider.get('/sign-in')).headers['strict-transport-security']).toBeUndefined();
    const tls = await testApp({ BASE_URL: 'https://bench.example.org' });
    const { headers } = await tls.outsider.get('/sign-in');
    expect(headers['strict-transport-security']).toBe('max-age=31536000');
  });

  it('of a fault of ours names the request, so that it can be looked up', async () => {
    const t = await testApp();
    const answer = await brokenPage(t);
    expect(answer.text).toMatch(/request <span class="request-id">[0-9a-f-]{13}/);
  });
});
