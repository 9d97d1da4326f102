import { and, desc, eq, gte, isNotNull, ne, sql } from 'drizzle-orm';
import { isOpen } from '../orders/queries-open.ts';
import type { Db } from '../plumbing/open-database.ts';
import { allocations, cultures, orderLines, orders, standingDiary } from '../schema/tables.ts';
import type { Culture } from './queries.ts';

/** What cultures of a species were fed since a day, the most usual first: suggestions for the field. */
export function foodsSince(db: Db, speciesId: number, onDay: string): string[] {
  return db
    .select({ food: standingDiary.food })
    .from(standingDiary)
    .innerJoin(cultures, eq(cultures.id, standingDiary.cultureId))
    .where(
      and(
        eq(cultures.speciesId, speciesId),
        eq(standingDiary.kind, 'feed'),
        isNotNull(standingDiary.food),
        gte(standingDiary.onDay, onDay),
      ),
    )
    .groupBy(standingDiary.food)
    .orderBy(desc(sql`count(*)`))
    .limit(12)
    .all()
    .flatMap((row) => row.food ?? []);
}

/** What a culture was fed and watered with last, so that the next time it need not be typed. */
export function lastGiven(db: Db, cultureId: number): { food: string | null; waterMl: number | null } {
  const last = (kind: 'feed' | 'water') =>
    db
      .select({ food: standingDiary.food, waterMl: standingDiary.waterMl })
      .from(standingDiary)
      .where(and(eq(standingDiary.cultureId, cultureId), eq(standingDiary.kind, kind)))
      .orderBy(desc(standingDiary.onDay), desc(standingDiary.id))
      .limit(1)
      .get();
  return { food: last('feed')?.food ?? null, waterMl: last('water')?.waterMl ?? null };
}

/** Other cultures of the species that are kept: animals may come from them. */
export function otherCultures(db: Db, { id, speciesId }: Pick<Culture, 'id' | 'speciesId'>) {
  return db
    .select()
    .from(cultures)
    .where(and(eq(cultures.speciesId, speciesId), ne(cultures.id, id), ne(cultures.status, 'retired')))
    .orderBy(cultures.code)
    .all();
}

/** The orders that a culture's animals are promised to. */
export function ordersPromised(db: Db, cultureId: number): number[] {
  return db
    .selectDistinct({ number: orders.number })
    .from(allocations)
    .innerJoin(orderLines, eq(orderLines.id, allocations.orderLineId))
    .innerJoin(orders, eq(orders.id, orderLines.orderId))
    .where(and(eq(allocations.cultureId, cultureId), isOpen))
    .orderBy(orders.number)
    .all()
    .map((row) => row.number);
}

/** Whether the diary says where a culture was moved to; else it stands where it was founded. */
export function wasEverMoved(db: Db, cultureId: number): boolean {
  const moved = db
    .select({ id: standingDiary.id })
    .from(standingDiary)
    .where(and(eq(standingDiary.cultureId, cultureId), eq(standingDiary.kind, 'move')))
    .limit(1)
    .get();
  return moved !== undefined;
}
