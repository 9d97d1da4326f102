import { createHmac, timingSafeEqual } from 'node:crypto';

/** What an order's address says, and nothing more. */
export type Said = {
  orderId: number;
  /** Instant (ms UTC) of whole seconds, until which it opens something. */
  expiresAt: number;
  /** Eight random bytes: tells one address of an order from the next. */
  nonce: Buffer;
};

/** HMAC-SHA-256 (RFC 2104, FIPS 198-1). */
export const hmacSha256 = (key: Buffer, data: Buffer): Buffer =>
  createHmac('sha256', key).update(data).digest();

/** Keeps a signature over an address from being one over anything else. */
const purpose = Buffer.from('order address, 1\n', 'latin1');
const saidBytes = 16;
/** RFC 2104, section 5: at least half of the hash may stand for it; that is 128 bits. */
const signedBytes = 16;
const tokenLength = 43;

const signatureOf = (secret: Buffer, said: Buffer) =>
  hmacSha256(secret, Buffer.concat([purpose, said])).subarray(0, signedBytes);

/**
 * The part of an address that opens an order's page: 32 bytes as base64url (RFC 4648), the same for the same order, end,
 * nonce and secret.
 */
export function signToken(secret: Buffer, { orderId, expiresAt, nonce }: Said): string {
  const said = Buffer.alloc(saidBytes);
  said.writeUInt32BE(orderId, 0);
  said.writeUInt32BE(Math.floor(expiresAt / 1000), 4);
  nonce.copy(said, 8, 0, 8);
  return Buffer.concat([said, signatureOf(secret, said)]).toString('base64url');
}

/** What a token says if it was signed with this secret, else null. Whether it still holds is another question. */
export function readToken(secret: Buffer, token: string): Said | null {
  if (token.length !== tokenLength || !/^[\w-]+$/.test(token)) return null;
  const bytes = Buffer.from(token, 'base64url');
  // One way of writing each token: the last letter has bits that decoding drops.
  if (bytes.length !== saidBytes + signedBytes || bytes.toString('base64url') !== token) return null;
  const said = bytes.subarray(0, saidBytes);
  if (!timingSafeEqual(signatureOf(secret, said), bytes.subarray(saidBytes))) return null;
  return {
    orderId: said.readUInt32BE(0),
    expiresAt: said.readUInt32BE(4) * 1000,
    nonce: Buffer.from(said.subarray(8)),
  };
}
