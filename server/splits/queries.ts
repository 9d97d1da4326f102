import type { Db } from '../plumbing/open-database.ts';
import { cultureParents } from '../schema/tables.ts';

/** The database keeps the lineage free of cycles, and a child from being older than its parent. */
export function addParent(tx: Db, cultureId: number, parentId: number, animals: number) {
  tx.insert(cultureParents).values({ cultureId, parentId, animals }).run();
}
