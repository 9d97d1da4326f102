import type { FastifyRequest } from 'fastify';

/**
 * Whether a form comes from a page that is not ours. Browsers say what a request's page has to do with where it is sent
 * (Fetch Metadata) and that page's origin; each that is said must be ours.
 *
 * `untold`: the page tells nobody its address, so that browsers call its origin null (Fetch Standard, "append a request
 * Origin header").
 */
export function isFromElsewhere(
  { headers, host }: FastifyRequest,
  baseUrl: string | null,
  page: 'told' | 'untold' = 'told',
): boolean {
  const site = headers['sec-fetch-site'];
  if (typeof site === 'string' && site !== 'same-origin' && site !== 'none') return true;
  const { origin } = headers;
  if (origin === undefined || (page === 'untold' && origin === 'null')) return false;
  const own = [host, baseUrl === null ? host : new URL(baseUrl).host];
  return !URL.canParse(origin) || !own.includes(new URL(origin).host);
}
