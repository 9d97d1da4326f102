import type { Call } from './call.ts';
import { notFound } from './errors.ts';

type Params = Pick<Call, 'params'>;

/** A whole number from the address's path; anything else is simply not there. */
export function numberIn({ params }: Params, name: string, what: string): number {
  const text = params[name] ?? '';
  if (!/^[1-9]\d{0,14}$/.test(text)) throw notFound(what);
  return Number(text);
}

/** The page of a list that the address asks for, counted from 1. */
export function pageIn({ query }: Pick<Call, 'query'>): number {
  const text = query.page ?? '';
  return /^[1-9]\d{0,5}$/.test(text) ? Number(text) : 1;
}

/** An address on this host with the parameters that have a value. */
export function addressWith(path: string, parameters: Record<string, string | number | null | undefined>) {
  const query = new URLSearchParams();
  for (const [name, value] of Object.entries(parameters)) {
    if (value !== null && value !== undefined && value !== '') query.set(name, String(value));
  }
  const text = query.toString();
  return text === '' ? path : `${path}?${text}`;
}
