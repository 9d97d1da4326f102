import { createHmac, randomBytes } from 'node:crypto';
import { Secret, TOTP } from 'otpauth';

/** As every app for it has them when nothing else is said (RFC 6238, 1.2; the key URI of such apps). */
export const stepMs = 30_000;
const digits = 6;

/** 160 random bits, as RFC 4226 (section 4, R6) recommends, in base32: 32 characters. */
export const freshSecret = () => new Secret({ buffer: new Uint8Array(randomBytes(20)).buffer }).base32;

const totp = (secret: string, length = digits) =>
  new TOTP({
    algorithm: 'SHA1',
    digits: length,
    period: stepMs / 1000,
    secret: Secret.fromBase32(secret),
  });

/** The code of an instant. */
export const codeAt = (secret: string, at: number, length = digits) =>
  totp(secret, length).generate({ timestamp: at });

/** Which step a code is of: this one, or one before or after it, for clocks that differ; null for none of them. */
export function stepOf(secret: string, code: string, now: number): number | null {
  const delta = totp(secret).validate({ token: code, timestamp: now, window: 1 });
  return delta === null ? null : Math.floor(now / stepMs) + delta;
}

/** What the app reads from the picture. */
export const keyUri = (secret: string, issuer: string, label: string) =>
  new TOTP({
    issuer,
    label,
    algorithm: 'SHA1',
    digits,
    period: stepMs / 1000,
    secret: Secret.fromBase32(secret),
  }).toString();

const processKey = randomBytes(32);
const letters = 'abcdefghjkmnpqrstuvwxyz23456789';
const recoveryCount = 10;

/**
 * Ten codes of 16 characters (79 bits each) that only this process can make, and makes again for the same form: a form
 * that is sent twice is answered with the same codes, though none is kept anywhere.
 */
export function recoveryCodesFor(personId: string, formKey: unknown): string[] {
  return Array.from({ length: recoveryCount }, (_, at) => {
    const bytes = createHmac('sha512', processKey)
      .update(JSON.stringify([personId, String(formKey), at]))
      .digest();
    // Below 248 every letter is as likely as any other; of 64 bytes there are always enough.
    const picked = [...bytes].filter((byte) => byte < 248).slice(0, 16);
    const text = picked.map((byte) => letters[byte % letters.length]).join('');
    return (text.match(/.{4}/g) ?? []).join('-');
  });
}

/** As it is typed: with or without spaces and hyphens, in any case. */
export const tidyCode = (typed: string) =>
  typed
    .normalize('NFKC')
    .toLowerCase()
    .replace(/[\s-]+/g, '');
