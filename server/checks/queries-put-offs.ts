import { and, desc, eq, gt, isNull, ne } from 'drizzle-orm';
import type { DueKind } from '../../shared/checks/care-due.ts';
import type { Db } from '../plumbing/open-database.ts';
import { cultures, people, putOffs } from '../schema/tables.ts';

export type PutOff = {
  id: number;
  cultureId: number;
  code: string;
  what: DueKind;
  untilOn: string;
  reason: string;
  by: string | null;
};

/** What is due and waits all the same on a day: the latest word on each kind of work of each culture. */
export function waitingOn(db: Db, today: string): PutOff[] {
  const rows = db
    .select({
      id: putOffs.id,
      cultureId: putOffs.cultureId,
      code: cultures.code,
      what: putOffs.what,
      untilOn: putOffs.untilOn,
      reason: putOffs.reason,
      by: people.name,
    })
    .from(putOffs)
    .innerJoin(cultures, eq(cultures.id, putOffs.cultureId))
    .leftJoin(people, eq(people.id, putOffs.madeBy))
    .where(and(gt(putOffs.untilOn, today), isNull(putOffs.undoneAt), ne(cultures.status, 'retired')))
    .orderBy(desc(putOffs.id))
    .all();
  const latest = new Map<string, PutOff>();
  for (const row of rows) {
    const key = `${row.cultureId} ${row.what}`;
    if (!latest.has(key)) latest.set(key, row);
  }
  return [...latest.values()];
}

type NewPutOff = Omit<typeof putOffs.$inferInsert, 'id' | 'undoneBy' | 'undoneAt'>;

export function addPutOff(tx: Db, values: NewPutOff): number {
  return tx.insert(putOffs).values(values).returning({ id: putOffs.id }).get().id;
}

/** It does not wait any longer: the code of its culture, or null where somebody had said so before. */
export function endPutOff(tx: Db, id: number, by: { undoneBy: string; undoneAt: number }): string | null {
  const isOpen = and(eq(putOffs.id, id), isNull(putOffs.undoneAt));
  const found = tx
    .select({ code: cultures.code })
    .from(putOffs)
    .innerJoin(cultures, eq(cultures.id, putOffs.cultureId))
    .where(isOpen)
    .get();
  tx.update(putOffs).set(by).where(isOpen).run();
  return found?.code ?? null;
}
