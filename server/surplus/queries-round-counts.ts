import { and, desc, eq, gte, inArray, isNull, lt, sql } from 'drizzle-orm';
import type { PlannedMethod } from '../../shared/counts/habits.ts';
import { addDays } from '../../shared/days.ts';
import type { Db } from '../plumbing/open-database.ts';
import { cultures, people, roundCounts, standingDiary } from '../schema/tables.ts';

/** For so long a count that was asked for and not made is still shown. */
const rememberedDays = 7;

export type AskedCount = {
  id: number;
  cultureId: number;
  code: string;
  onDay: string;
  method: PlannedMethod;
  minutes: number;
  gain: number;
  /** Who asked for it. */
  by: string | null;
  /** The entry of a count made that day or later, when there is one. */
  doneEntry: number | null;
};

function asked(db: Db) {
  const done = db
    .select({ id: sql<number>`max(${standingDiary.id})` })
    .from(standingDiary)
    .where(
      and(
        eq(standingDiary.cultureId, roundCounts.cultureId),
        eq(standingDiary.kind, 'count'),
        gte(standingDiary.onDay, roundCounts.onDay),
      ),
    );
  return db
    .select({
      id: roundCounts.id,
      cultureId: roundCounts.cultureId,
      code: cultures.code,
      onDay: roundCounts.onDay,
      method: roundCounts.method,
      minutes: roundCounts.minutes,
      gain: roundCounts.gain,
      by: people.name,
      doneEntry: sql<number | null>`(${done})`,
    })
    .from(roundCounts)
    .innerJoin(cultures, eq(cultures.id, roundCounts.cultureId))
    .leftJoin(people, eq(people.id, roundCounts.madeBy));
}

/** The counts asked of the round of a day. */
export function countsAskedFor(db: Db, onDay: string): AskedCount[] {
  return asked(db)
    .where(
      and(eq(roundCounts.onDay, onDay), isNull(roundCounts.undoneAt), sql`${cultures.status} <> 'retired'`),
    )
    .orderBy(roundCounts.id)
    .all();
}

/** Counts asked for on the days before and not made since; the latest of each culture that is not asked again today. */
export function countsLeftOver(db: Db, today: string): AskedCount[] {
  const again = new Set(countsAskedFor(db, today).map(({ cultureId }) => cultureId));
  const left = asked(db)
    .where(
      and(
        lt(roundCounts.onDay, today),
        gte(roundCounts.onDay, addDays(today, -rememberedDays)),
        isNull(roundCounts.undoneAt),
        sql`${cultures.status} <> 'retired'`,
      ),
    )
    .orderBy(desc(roundCounts.onDay), cultures.code)
    .all();
  const latest = new Map<number, AskedCount>();
  for (const one of left) {
    if (one.doneEntry === null && !again.has(one.cultureId) && !latest.has(one.cultureId))
      latest.set(one.cultureId, one);
  }
  return [...latest.values()];
}

export type CountWanted = { cultureId: number; method: PlannedMethod; minutes: number; gain: number };

/** Asks counts of the round of a day; one that is asked of it already stays as it is. Returns the new ones. */
export function askCounts(
  tx: Db,
  wanted: readonly CountWanted[],
  { onDay, madeBy, madeAt }: { onDay: string; madeBy: string; madeAt: number },
): number[] {
  return wanted.flatMap((one) =>
    tx
      .insert(roundCounts)
      .values({ ...one, onDay, madeBy, madeAt })
      .onConflictDoNothing()
      .returning({ id: roundCounts.id })
      .all()
      .map(({ id }) => id),
  );
}

/** Takes counts off the round again; the codes of those that nobody had taken off before. */
export function takeCountsBack(
  tx: Db,
  ids: readonly number[],
  { undoneBy, undoneAt }: { undoneBy: string; undoneAt: number },
): string[] {
  const open = and(inArray(roundCounts.id, [...ids]), isNull(roundCounts.undoneAt));
  const codes = tx
    .select({ code: cultures.code })
    .from(roundCounts)
    .innerJoin(cultures, eq(cultures.id, roundCounts.cultureId))
    .where(open)
    .all();
  tx.update(roundCounts).set({ undoneBy, undoneAt }).where(open).run();
  return codes.map(({ code }) => code);
}
