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

/** Writes into the record of changes, in the transaction of the change itself. Rows are never changed or deleted. */
export function note(tx: Db, { at, personId, action, subject, before, after }: AuditNote): void {
  tx.insert(audit)
    .values({ at, personId, action, subject, before: asJson(before), after: asJson(after) })
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
