import type { FastifyRequest } from 'fastify';

/**
 * Whether a stranger's form comes from a page that is not ours. A page of ours sends it from our own origin, or says
 * nothing of where it comes from: one that tells nobody its address has no origin to name (Fetch Standard, "append a
 * request Origin header").
 */
export function isFromElsewhere({ headers, host }: FastifyRequest, baseUrl: string | null): boolean {
  const site = headers['sec-fetch-site'];
  if (typeof site === 'string') return site !== 'same-origin' && site !== 'none';
  const { origin } = headers;
  if (origin === undefined || origin === 'null') return false;
  const own = [host, baseUrl === null ? host : new URL(baseUrl).host];
  return !URL.canParse(origin) || !own.includes(new URL(origin).host);
}
