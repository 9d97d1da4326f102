import { createHmac } from 'node:crypto';
import request from 'supertest';
import { describe, expect, it } from 'vitest';
import {
  addressOfOrder,
  endLink,
  ensureLink,
  linkByToken,
  renewLink,
} from '../../server/arrivals/queries-links.ts';
import { signToken } from '../../server/arrivals/token.ts';
import { linkKey, orderLinks } from '../../server/schema/tables.ts';
import { makeOrder } from '../support/orders.ts';
import { randomFrom } from '../support/random.ts';
import { cast, testApp, testNow } from '../support/test-app.ts';

// OWASP ASVS 5.0, 9.1.1 to 9.2.4 and 11.5.1. `npm run prove -- links` asks with a million random tokens.
const random = Number(process.env.LINK_TOKENS ?? 500);
const by = { personId: cast.owner.id, now: testNow };
const day = 86_400_000;

async function withLinks() {
  const t = await testApp();
  const [one, other] = [makeOrder(t.db), makeOrder(t.db)];
  const tokens = [one, other].map((order) => {
    ensureLink(t.db, order, by);
    return addressOfOrder(t.db, order.id, { base: '', now: testNow })?.slice(3) ?? '';
  });
  const secret = t.db.select().from(linkKey).get()?.secret ?? Buffer.alloc(0);
  const opens = (token: string, now = testNow) => linkByToken(t.db, token, now)?.orderId ?? null;
  const [token = '', foreign = ''] = tokens;
  return { ...t, one, other, token, foreign, secret, opens };
}

const bytesOf = (token: string) => Buffer.from(token, 'base64url');
const textOf = (bytes: Uint8Array) => Buffer.from(bytes).toString('base64url');

function flipped(token: string): string[] {
  return Array.from({ length: bytesOf(token).length * 8 }, (_, bit) => {
    const bytes = bytesOf(token);
    bytes[bit >> 3] = (bytes[bit >> 3] ?? 0) ^ (1 << (bit & 7));
    return textOf(bytes);
  });
}

describe("the address of a customer's page", () => {
  it('opens nothing with any bit of it turned, cut, longer, in other letters or put together from two', async () => {
    const { token, foreign, opens } = await withLinks();
    const [own, others] = [bytesOf(token), bytesOf(foreign)];
    const pieces = Array.from({ length: 31 }, (_, at) =>
      textOf(Buffer.concat([own.subarray(0, at + 1), others.subarray(at + 1)])),
    );
    const cut = Array.from({ length: 43 }, (_, at) => token.slice(0, at));
    const longer = ['=', 'A', ' ', '\n', '\0', '.', '/', token, '%00', '\u200b'].flatMap((more) => [
      token + more,
      more + token,
    ]);
    const written = [
      token.toLowerCase(),
      token.toUpperCase(),
      encodeURIComponent(encodeURIComponent(`${token}=`)),
      own.toString('base64'),
      own.toString('hex'),
      [...token].map((letter) => `%${letter.charCodeAt(0).toString(16)}`).join(''),
      // Base64 has four last letters for these bits; only one of them is written here.
      ...['A', 'B', 'C', 'D'].map(
        (_, at) => token.slice(0, -1) + String.fromCharCode(token.charCodeAt(42) + at + 1),
      ),
      token.replace(/.$/, (letter) => `\u0100${letter}`),
    ];
    expect([opens(token), opens(foreign)]).toEqual([1, 2]);
    // The numbers of two orders begin alike: a piece of those alone is the other address as it is.
    const mixed = pieces.filter((piece) => piece !== foreign);
    expect(mixed.length).toBeGreaterThan(25);
    for (const wrong of [...flipped(token), ...mixed, ...cut, ...longer, ...written])
      expect([wrong, opens(wrong)]).toEqual([wrong, null]);
  });

  it('opens nothing with another key, purpose, order or end, once it has ended, or with a new key', async () => {
    const { db, sqlite, token, secret, one, other, opens } = await withLinks();
    const link = db.select().from(orderLinks).all()[0];
    if (!link) throw new Error('no link');
    const said = bytesOf(token).subarray(0, 16);
    const signed = (key: Buffer, purpose: string, hash = 'sha256') =>
      textOf(
        Buffer.concat([said, createHmac(hash, key).update(purpose).update(said).digest().subarray(0, 16)]),
      );
    expect(signed(secret, 'order address, 1\n')).toBe(token);
    const forged = [
      signed(secret, ''),
      signed(secret, 'order address, 2\n'),
      signed(secret, 'calendar\n'),
      signed(secret, 'order address, 1\n', 'sha1'),
      signed(secret, 'order address, 1\n', 'sha512'),
      signed(Buffer.alloc(32), 'order address, 1\n'),
      signed(Buffer.alloc(0), 'order address, 1\n'),
      textOf(Buffer.concat([said, Buffer.alloc(16)])),
      // Signed rightly, but not of an address that was given out.
      signToken(secret, { ...link, orderId: other.id }),
      signToken(secret, { ...link, expiresAt: link.expiresAt + day }),
      signToken(secret, { ...link, nonce: Buffer.alloc(8) }),
      signToken(secret, { orderId: one.id, expiresAt: 0xffffffff * 1000, nonce: link.nonce }),
    ];
    for (const wrong of forged) expect([wrong, opens(wrong)]).toEqual([wrong, null]);
    expect(opens(token, link.expiresAt - 1)).toBe(1);
    for (const late of [0, 1, day, 10 * 365 * day]) expect(opens(token, link.expiresAt + late)).toBeNull();
    renewLink(db, one, by);
    expect(opens(token)).toBeNull();
    const next = addressOfOrder(db, one.id, { base: '', now: testNow })?.slice(3) ?? '';
    expect(opens(next)).toBe(1);
    endLink(db, one.id, by);
    expect(opens(next)).toBeNull();
    sqlite.exec('UPDATE link_key SET secret = randomblob(32)');
    const rest = db
      .select()
      .from(orderLinks)
      .all()
      .map((row) => opens(signToken(secret, row)));
    expect(rest).toEqual([null, null, null]);
  });

  it('is not found by trying', async () => {
    const { opens, token } = await withLinks();
    const { uniform: draw } = randomFrom(11);
    const bytes = bytesOf(token);
    let found = 0;
    for (let at = 0; at < random; at += 1) {
      // By turns all of it, and only the signature over what an address that opens says.
      for (let byte = at % 2 ? 16 : 0; byte < 32; byte += 1) bytes[byte] = Math.floor(draw() * 256);
      if (at % 2) bytesOf(token).copy(bytes, 0, 0, 16);
      if (opens(textOf(bytes)) !== null) found += 1;
    }
    expect(found).toBe(0);
  }, 3_600_000);

  it('stands on no paper, and no page leads elsewhere with it', async () => {
    const t = await withLinks();
    t.sqlite.exec("UPDATE orders SET state = 'confirmed'");
    const answer = await request(t.app.server).get(`/o/${t.token}`);
    expect([answer.status, answer.headers['referrer-policy'], answer.headers['cache-control']]).toEqual([
      200,
      'no-referrer',
      'no-store',
    ]);
    expect(answer.text.match(/(?:href|src|action)="(?:https?:)?\/\/[^"]*/g) ?? []).toEqual([]);
    for (const wrong of [
      `%2f${t.token}`,
      `${t.token}%3d`,
      `${t.token}/..`,
      encodeURIComponent(encodeURIComponent(`${t.token} `)),
    ])
      expect((await request(t.app.server).get(`/o/${wrong}`)).status).toBe(404);
  });
});
