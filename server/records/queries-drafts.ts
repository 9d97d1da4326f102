import { lt } from 'drizzle-orm';
import type { Db } from '../plumbing/open-database.ts';
import { importDrafts } from '../schema/tables.ts';

/** Takes away uploaded files that nobody went on with; returns how many went. */
export function forgetDrafts(db: Db, before: number): number {
  return db.delete(importDrafts).where(lt(importDrafts.madeAt, before)).run().changes;
}
