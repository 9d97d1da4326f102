import { createHmac, randomBytes } from 'node:crypto';
import type { Config } from '../config.ts';
import { ownAddress } from '../plumbing/own-address.ts';
import type { Purpose } from './queries-links.ts';

const processKey = randomBytes(32);

/**
 * A token that only this process can make, and makes again for the same form: a form that is sent twice is answered
 * with the same link, though no link is kept anywhere. 256 bits, from a random key.
 */
export function tokenForForm(
  purpose: Purpose | 'session' | 'device',
  personId: string,
  formKey: unknown,
): string {
  return createHmac('sha256', processKey)
    .update(JSON.stringify([purpose, personId, String(formKey)]))
    .digest('base64url');
}

const paths: Record<Purpose, string> = {
  'set-up': '/set-up',
  invitation: '/invitation',
  reset: '/new-password',
};

export function linkAddress(config: Config, purpose: Purpose, token: string): string {
  return `${ownAddress(config)}${paths[purpose]}?token=${token}`;
}
