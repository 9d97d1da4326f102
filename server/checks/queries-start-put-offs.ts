import { and, desc, eq, gt, isNull } from 'drizzle-orm';
import type { Db } from '../plumbing/open-database.ts';
import { people, startPutOffs } from '../schema/tables.ts';

/** Feeder cultures whose start waits on a day: the latest word on each feeder. */
export function startsWaiting(db: Db, today: string) {
  const { id, feederId, untilOn, reason } = startPutOffs;
  const rows = db
    .select({ id, feederId, untilOn, reason, by: people.name })
    .from(startPutOffs)
    .leftJoin(people, eq(people.id, startPutOffs.madeBy))
    .where(and(gt(untilOn, today), isNull(startPutOffs.undoneAt)))
    .orderBy(desc(id))
    .all();
  const latest = new Map<number, (typeof rows)[number]>();
  for (const row of rows) if (!latest.has(row.feederId)) latest.set(row.feederId, row);
  return latest;
}

type NewPutOff = Omit<typeof startPutOffs.$inferInsert, 'id' | 'undoneBy' | 'undoneAt'>;

export const addStartPutOff = (tx: Db, values: NewPutOff): number =>
  tx.insert(startPutOffs).values(values).returning({ id: startPutOffs.id }).get().id;

/** It does not wait any longer; false where somebody had said so before. */
export function endStartPutOff(tx: Db, id: number, by: { undoneBy: string; undoneAt: number }): boolean {
  const isOpen = and(eq(startPutOffs.id, id), isNull(startPutOffs.undoneAt));
  return tx.update(startPutOffs).set(by).where(isOpen).run().changes > 0;
}
