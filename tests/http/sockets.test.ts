import type { AddressInfo } from 'node:net';
import { connect } from 'node:net';
import { gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { contentsOf } from '../support/contents.ts';
import { doubtful, form } from '../support/doubtful.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import type { Visitor } from '../support/visitor.ts';

let t: TestApp;
let port = 0;

beforeAll(async () => {
  t = await testApp();
  await t.app.listen({ port: 0, host: '127.0.0.1' });
  port = (t.app.server.address() as AddressInfo).port;
});
afterAll(() => t.app.close());

/** What is answered to bytes as they are, until the line is closed or falls silent. */
async function said(bytes: string | Buffer, silentMs = 400): Promise<string> {
  const socket = connect(port, '127.0.0.1');
  socket.setTimeout(silentMs, () => socket.destroy());
  socket.on('error', () => undefined);
  let text = '';
  socket.on('data', (chunk: Buffer) => {
    text += chunk.toString('latin1');
  });
  socket.write(bytes);
  await new Promise<void>((resolve) => socket.once('close', () => resolve()));
  return text;
}

const statuses = (text: string) =>
  [...text.matchAll(/HTTP\/1\.1 (\d{3})/g)].map(([, status]) => Number(status));
describe('a request that could be read in two ways', () => {
  it.each(doubtful)('with %s is read in none or the one', async (_what, bytes, allowed) => {
    const before = contentsOf(t.sqlite);
    const text = await said(bytes);
    const got = statuses(text);
    // No answer at all is a refusal too.
    expect(got.length).toBeLessThanOrEqual(1);
    for (const status of got) expect(allowed).toContain(status);
    expect(text).not.toMatch(/smuggled|mirror|example\.org/);
    expect(contentsOf(t.sqlite)).toEqual(before);
  });
});

const cookiesOf = (visitor: Visitor) =>
  [...(visitor as unknown as { cookies: Map<string, string> }).cookies]
    .map(([name, value]) => `${name}=${value}`)
    .join('; ');

const posting = (body: Buffer, headers = '') =>
  Buffer.concat([
    Buffer.from(
      `POST /sign-in HTTP/1.1\r\nHost: x\r\nConnection: close\r\n${headers || form}\r\nContent-Length: ${body.length}\r\n\r\n`,
    ),
    body,
  ]);

// OWASP ASVS 5.0, 5.2.1 and 15.2.2.
describe('a request that is too much', () => {
  it.each<[string, Buffer | string, number[]]>([
    ['a form one byte over the limit', posting(Buffer.alloc(65_537, 'a')), [413]],
    ['a hundred thousand fields', posting(Buffer.from('a&'.repeat(32_000))), [403]],
    ['a field of a megabyte', posting(Buffer.from(`name=${'x'.repeat(1_000_000)}`)), [413]],
    [
      'JSON ten thousand deep',
      posting(Buffer.from('['.repeat(10_000)), 'Content-Type: application/json'),
      [415],
    ],
    [
      'a packed body',
      posting(gzipSync('a='.repeat(1_000_000)), `${form}\r\nContent-Encoding: gzip`),
      [400, 403, 413, 415],
    ],
    ['a head of 64 kB', `GET /sign-in HTTP/1.1\r\nHost: x\r\nX-A: ${'x'.repeat(65_536)}\r\n\r\n`, [431]],
    ['ten thousand headers', `GET /sign-in HTTP/1.1\r\nHost: x\r\n${'X: y\r\n'.repeat(10_000)}\r\n`, [431]],
    ['an address of 20 kB', `GET /sign-in?${'a'.repeat(20_000)} HTTP/1.1\r\nHost: x\r\n\r\n`, [431]],
    [
      'thousands of parameters',
      `GET /sign-in?${'a&'.repeat(7_000)} HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n`,
      [200],
    ],
    [
      'half of a multipart form',
      posting(Buffer.from('--x\r\n'), 'Content-Type: multipart/form-data; boundary=x'),
      [400, 403, 415],
    ],
  ])('by %s is refused, and the next is answered', async (_what, bytes, allowed) => {
    const [status] = statuses(await said(bytes, 2_000));
    expect(allowed).toContain(status);
    expect((await t.outsider.get('/sign-in')).status).toBe(200);
  });

  const file = '--x\r\nContent-Disposition: form-data; name="files"; filename="a.csv"\r\n\r\n';
  it.each<[string, () => Promise<string>]>([
    [
      'a form',
      async () => `POST /sign-in HTTP/1.1\r\nHost: x\r\n${form}\r\nTransfer-Encoding: chunked\r\n\r\n`,
    ],
    [
      'a file',
      async () =>
        `POST /records/drafts?_csrf=${encodeURIComponent(await t.owner.csrf())} HTTP/1.1\r\nHost: x\r\nCookie: ${cookiesOf(t.owner)}\r\nContent-Type: multipart/form-data; boundary=x\r\nTransfer-Encoding: chunked\r\n\r\n${file.length.toString(16)}\r\n${file}\r\n`,
    ],
  ])('by %s without end is cut off', async (_what, begin) => {
    const first = await begin();
    const socket = connect(port, '127.0.0.1');
    socket.on('error', () => undefined);
    let text = '';
    socket.on('data', (chunk: Buffer) => {
      text += chunk.toString('latin1');
    });
    const closed = new Promise<void>((resolve) => socket.once('close', () => resolve()));
    socket.write(first);
    const piece = `10000\r\n${'a'.repeat(65_536)}\r\n`;
    let sent = 0;
    // Four times what the service reads on of a body that is too large.
    while (!socket.destroyed && sent < 2_000) {
      sent += 1;
      if (!socket.write(piece))
        await Promise.race([new Promise<void>((resolve) => socket.once('drain', () => resolve())), closed]);
    }
    socket.destroy();
    await closed;
    // Past what is read on of it the line is simply closed, before or after the answer was heard.
    expect([[], [413]]).toContainEqual(statuses(text));
    expect(sent).toBeLessThan(2_000);
  });
});
