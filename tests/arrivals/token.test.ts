import { describe, expect, it } from 'vitest';
import { hmacSha256, readToken, signToken } from '../../server/arrivals/token.ts';

const times = (byte: number, length: number) => Buffer.alloc(length, byte);

/** RFC 4231, section 4: HMAC-SHA-256. Of test case 5 the RFC gives the first 128 bits. */
const vectors: [string, Buffer, string | Buffer, string][] = [
  ['1', times(0x0b, 20), 'Hi There', 'b0344c61d8db38535ca8afceaf0bf12b881dc200c9833da726e9376c2e32cff7'],
  [
    '2',
    Buffer.from('Jefe'),
    'what do ya want for nothing?',
    '5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843',
  ],
  ['3', times(0xaa, 20), times(0xdd, 50), '773ea91e36800e46854db8ebd09181a72959098b3ef8c122d9635514ced565fe'],
  [
    '4',
    Buffer.from(Array.from({ length: 25 }, (_, i) => i + 1)),
    times(0xcd, 50),
    '82558a389a443c0ea4cc819899f2083a85f0faa3e578f8077a2e3ff46729665b',
  ],
  ['5, cut', times(0x0c, 20), 'Test With Truncation', 'a3b6167473100ee06e0c796c2955552b'],
  [
    '6',
    times(0xaa, 131),
    'Test Using Larger Than Block-Size Key - Hash Key First',
    '60e431591ee0b67f0d8a26aacbf5b77f8e0bc6213728c5140546040f0ee37f54',
  ],
  [
    '7',
    times(0xaa, 131),
    'This is a test using a larger than block-size key and a larger than block-size data. The key needs to be hashed before being used by the HMAC algorithm.',
    '9b09ffa71b942fcb27635fbcd5b0e944bfdc63644f0713938a7f51535c3a35e2',
  ],
];

describe('what addresses are signed with', () => {
  it.each(vectors)('agrees with RFC 4231, test case %s', (_name, key, data, hash) => {
    expect(hmacSha256(key, Buffer.from(data)).toString('hex').slice(0, hash.length)).toBe(hash);
  });
});

const secret = times(7, 32);
const said = {
  orderId: 4_000_000_000,
  expiresAt: 1_790_000_000_000,
  nonce: Buffer.from('0123456789abcdef', 'hex'),
};

describe('a token', () => {
  it('says what was signed, and is the same each time', () => {
    const token = signToken(secret, said);
    expect(token).toMatch(/^[\w-]{43}$/);
    expect(signToken(secret, said)).toBe(token);
    expect(readToken(secret, token)).toEqual(said);
  });

  it('is read by no other key, and by none once any letter of it is changed', () => {
    const token = signToken(secret, said);
    expect(readToken(times(8, 32), token)).toBeNull();
    for (let at = 0; at < token.length; at += 1) {
      for (const letter of 'Aa0_') {
        const changed = token.slice(0, at) + letter + token.slice(at + 1);
        if (changed !== token) expect(readToken(secret, changed)).toBeNull();
      }
    }
  });

  it.each(['', 'short', 'a'.repeat(43), `${'a'.repeat(42)}=`, 'ä'.repeat(43), 'a'.repeat(9_000)])(
    'is none: %.12s',
    (text) => {
      expect(readToken(secret, text)).toBeNull();
    },
  );
});
