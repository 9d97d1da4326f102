import { and, asc, eq, inArray, or, sql } from 'drizzle-orm';
import type { Db } from '../plumbing/open-database.ts';
import {
  allocations,
  cultureEstimates,
  cultures,
  diary,
  lines,
  orderLines,
  people,
  places,
  standingDiary,
} from '../schema/tables.ts';

/** Promised or packed, and nothing stands in its place: what the order has now. */
const isCurrent = sql`allocations.state IN ('reserved', 'packed')
  AND NOT EXISTS (SELECT 1 FROM allocations later WHERE later.instead_of = allocations.id)`;

/** What an order has now from which culture, in shelf order. */
export function allocationsOf(db: Db, orderId: number) {
  return db
    .select({
      id: allocations.id,
      lineId: allocations.orderLineId,
      cultureId: allocations.cultureId,
      groups: allocations.groups,
      animals: allocations.animals,
      state: allocations.state,
      overrideReason: allocations.overrideReason,
      diaryId: allocations.diaryId,
      madeAt: allocations.madeAt,
      by: people.name,
      code: cultures.code,
      cultureStatus: cultures.status,
      line: lines.name,
      place: places.fullName,
      health: cultureEstimates.health,
      packedOn: diary.onDay,
    })
    .from(allocations)
    .innerJoin(orderLines, eq(orderLines.id, allocations.orderLineId))
    .innerJoin(cultures, eq(cultures.id, allocations.cultureId))
    .leftJoin(lines, eq(lines.id, cultures.lineId))
    .leftJoin(places, eq(places.id, cultures.placeId))
    .leftJoin(cultureEstimates, eq(cultureEstimates.cultureId, cultures.id))
    .leftJoin(people, eq(people.id, allocations.madeBy))
    .leftJoin(diary, eq(diary.id, allocations.diaryId))
    .where(and(eq(orderLines.orderId, orderId), isCurrent))
    .orderBy(
      sql`${places.shelfOrder} IS NULL`,
      asc(places.shelfOrder),
      asc(cultures.code),
      asc(orderLines.position),
      asc(allocations.id),
    )
    .all();
}
export type CurrentAllocation = ReturnType<typeof allocationsOf>[number];

/** Groups that each line has now, by the line's id. */
export function groupsByLine(found: readonly CurrentAllocation[]): Map<number, number> {
  const groups = new Map<number, number>();
  for (const { lineId, groups: n } of found) groups.set(lineId, (groups.get(lineId) ?? 0) + n);
  return groups;
}

/** Lines that animals were ever promised on: they are kept even when they leave the order. */
export function linesEverPromised(db: Db, lineIds: readonly number[]): Set<number> {
  if (lineIds.length === 0) return new Set();
  const rows = db
    .selectDistinct({ lineId: allocations.orderLineId })
    .from(allocations)
    .where(inArray(allocations.orderLineId, [...lineIds]))
    .all();
  return new Set(rows.map((row) => row.lineId));
}

/** The diary entry that stands for a packed harvest: itself or its latest correction; none when it was taken out. */
export function standingHarvest(
  db: Db,
  packed: { cultureId: number; diaryId: number | null },
): number | undefined {
  if (packed.diaryId === null) return undefined;
  const entry = db
    .select({ id: standingDiary.id })
    .from(standingDiary)
    .where(
      and(
        eq(standingDiary.cultureId, packed.cultureId),
        or(eq(standingDiary.id, packed.diaryId), eq(standingDiary.rootId, packed.diaryId)),
      ),
    )
    .get();
  return entry?.id;
}

export function insertAllocation(tx: Db, values: typeof allocations.$inferInsert): number {
  return tx.insert(allocations).values(values).returning({ id: allocations.id }).get().id;
}

/** A promise ends: the animals are free again, or they are packed and a diary entry says so. */
export function endPromise(
  tx: Db,
  id: number,
  end: { state: 'released' } | { state: 'packed'; diaryId: number },
) {
  tx.update(allocations).set(end).where(eq(allocations.id, id)).run();
}
