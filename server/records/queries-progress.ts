import { and, eq, inArray, ne, or, sql } from 'drizzle-orm';
import type { Db } from '../plumbing/open-database.ts';
import { cultureEstimates, cultures, enclosures, importTouched } from '../schema/tables.ts';

/** How far the estimates of the cultures are that an import brought or wrote into. */
export function estimatesOf(db: Db, importIds: readonly number[], today: string) {
  const ids = [...importIds];
  const touched = db
    .select({ id: importTouched.cultureId })
    .from(importTouched)
    .where(inArray(importTouched.importId, ids));
  const theirs = and(
    or(inArray(cultures.importId, ids), inArray(cultures.id, touched)),
    ne(cultures.status, 'retired'),
  );
  const rows = db
    .select({
      code: cultures.code,
      fault: cultureEstimates.fault,
      isDone: sql<number>`coalesce(${cultureEstimates.asOf}, '') >= ${today}`,
    })
    .from(cultures)
    .leftJoin(cultureEstimates, eq(cultureEstimates.cultureId, cultures.id))
    .where(theirs)
    .orderBy(cultures.code)
    .all();
  const done = rows.filter((row) => row.isDone);
  return {
    total: rows.length,
    done: done.length,
    faults: done.flatMap(({ code, fault }) => (fault === null ? [] : [{ code, fault }])),
  };
}

/** Enclosures that an import made from their names alone. */
export function unmeasuredOf(db: Db, importIds: readonly number[]): string[] {
  return db
    .select({ name: enclosures.name })
    .from(enclosures)
    .where(and(inArray(enclosures.importId, [...importIds]), eq(enclosures.measured, false)))
    .orderBy(enclosures.name)
    .all()
    .map((row) => row.name);
}
