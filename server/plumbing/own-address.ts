import { hostname } from 'node:os';
import type { Config } from '../config.ts';

const everywhere = new Set(['0.0.0.0', '::', '']);

/**
 * Where people reach this service, without a slash at the end: for links that leave the page (printed, copied). From
 * the settings, never from what a request says about itself.
 */
export function ownAddress({ baseUrl, host, port }: Pick<Config, 'baseUrl' | 'host' | 'port'>): string {
  if (baseUrl) return baseUrl;
  const name = everywhere.has(host) ? hostname() : host;
  return `http://${name.includes(':') ? `[${name}]` : name}:${port}`;
}
