import type { Config } from '../config.ts';

export type CookieSettings = Pick<Config, 'secureCookies' | 'basePath'>;

/**
 * How a cookie is kept to this service. Over TLS its name binds it (RFC 6265bis, 4.1.3): __Host- to this host and the
 * whole of it, or, where the service lives under a path of the host, __Secure- to TLS; the path does the rest. Without
 * TLS, on the machine itself, browsers take neither name.
 */
export function cookieOf(name: string, { secureCookies, basePath }: CookieSettings) {
  const prefix = basePath === '' ? '__Host-' : '__Secure-';
  return {
    name: secureCookies ? `${prefix}${name}` : name,
    attributes: { secure: secureCookies, sameSite: 'lax', path: `${basePath}/`, httpOnly: true } as const,
  };
}
