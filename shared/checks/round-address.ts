import { z } from 'zod';

/** A part of the round as an address names it: 3. Null where none is named, or nothing that could be one. */
export function partNamed(text: unknown): number | null {
  return typeof text === 'string' && /^[1-9]\d{0,3}$/.test(text) ? Number(text) : null;
}

/** Where a part of the round is shown; without a part the round itself, which opens where work is left. */
export const roundPath = (part: number | null) => (part === null ? '/round' : `/round?part=${part}`);

/** How pages say that somebody comes from the round, and from which part of it: 'round', 'round.3'. */
export const fromRound = (part: number | null) => (part === null ? 'round' : `round.${part}`);

/** What the address of a form on the round ends with, so that it leads back to the same part. */
export const inPart = (part: number | null) => (part === null ? '' : `?from=${fromRound(part)}`);

/** The part somebody comes from; undefined where they do not come from the round. */
function partIn(from: unknown): number | null | undefined {
  if (from === 'round') return null;
  const named = typeof from === 'string' && from.startsWith('round.') ? partNamed(from.slice(6)) : null;
  return named ?? undefined;
}

/** The part somebody comes from, as far as it is said. */
export const partFrom = (from: unknown): number | null => partIn(from) ?? null;

/** What a page hands on to the next: 'round.3'; null for whoever does not come from the round. */
export function roundFrom(from: unknown): string | null {
  const part = partIn(from);
  return part === undefined ? null : fromRound(part);
}

/** Where whoever comes from the round goes on; null for everybody else. */
export function backToRound(from: unknown): string | null {
  const part = partIn(from);
  return part === undefined ? null : roundPath(part);
}

/** An address of the round that a form brings along; anything else is none. */
export const roundBack = z
  .string()
  .regex(/^\/round(\?part=[1-9]\d{0,3})?$/)
  .optional()
  .catch(undefined);
