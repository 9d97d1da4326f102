import { createHash, randomBytes } from 'node:crypto';
import { eq, sql } from 'drizzle-orm';
import { audit } from '../schema/tables.ts';
import type { Db } from './open-database.ts';

export type AuditNote = {
  at: number;
  /** Who did it; null for what nobody signed in did (a refused sign-in, a job). */
  personId: string | null;
  /** What was done, in two or three words: 'changed role'. */
  action: string;
  /** What it was done to: 'person <id>', 'business'. */
  subject: string;
  before?: Record<string, unknown> | null;
  after?: Record<string, unknown> | null;
};

const secretName = /password|token|hash|secret|cookie/i;

function asJson(values: Record<string, unknown> | null | undefined): string | null {
  if (!values) return null;
  for (const name of Object.keys(values)) {
    if (secretName.test(name)) throw new Error(`${name} must not stand in the record of changes`);
  }
  return JSON.stringify(values);
}

const hashOf = (...parts: unknown[]) => createHash('sha256').update(JSON.stringify(parts)).digest('hex');

type Row = typeof audit.$inferSelect;

/** Of what stood before and after, with salt, so that an erased text cannot be guessed at by its hash. */
export const bodyHashOf = ({ salt, before, after }: Pick<Row, 'salt' | 'before' | 'after'>) =>
  hashOf(salt, before, after);

type Link = Pick<Row, 'id' | 'at' | 'personId' | 'action' | 'subject' | 'bodyHash'>;

/** The hash of a row and of the row before: of a number where that one is older than the chain, or there is none. */
export const chainOf = (
  { id, at, personId, action, subject, bodyHash }: Link,
  previous: Pick<Row, 'id' | 'chain'> | undefined,
) => hashOf(previous?.chain ?? previous?.id ?? 0, id, at, personId, action, subject, bodyHash);

/** Writes into the record of changes, in the transaction of the change itself. Rows are never changed or deleted. */
export function note(tx: Db, { at, personId, action, subject, before, after }: AuditNote): void {
  const previous = tx
    .select({ id: audit.id, chain: audit.chain })
    .from(audit)
    .where(eq(audit.id, sql`(SELECT max(id) FROM audit)`))
    .get();
  const body = { salt: randomBytes(16).toString('hex'), before: asJson(before), after: asJson(after) };
  const row = { id: (previous?.id ?? 0) + 1, at, personId, action, subject, bodyHash: bodyHashOf(body) };
  tx.insert(audit)
    .values({ ...row, ...body, chain: chainOf(row, previous) })
    .run();
}

/** Only what differs between two rows, for `before` and `after`. */
export function changesBetween<T extends Record<string, unknown>>(
  before: T,
  after: Partial<T>,
): { before: Partial<T>; after: Partial<T> } {
  const was: Partial<T> = {};
  const is: Partial<T> = {};
  for (const name of Object.keys(after) as (keyof T)[]) {
    if (before[name] === after[name]) continue;
    was[name] = before[name];
    is[name] = after[name];
  }
  return { before: was, after: is };
}
