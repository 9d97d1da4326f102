import { and, asc, eq, inArray, notInArray, or, type SQL, type SQLWrapper, sql } from 'drizzle-orm';
import { alias } from 'drizzle-orm/sqlite-core';
import type { Db } from '../plumbing/open-database.ts';
import {
  allocations,
  contacts,
  cultureParents,
  cultures,
  diary,
  imports,
  orderLines,
  orders,
} from '../schema/tables.ts';

/** Something later that stands on what an import brought, in words, with the cultures it is about. */
export type Dependent = { what: string; codes: string[]; count: number };

const shown = 8;

function dependent(what: string, codes: readonly string[]): Dependent[] {
  const distinct = [...new Set(codes)];
  return codes.length === 0 ? [] : [{ what, codes: distinct.slice(0, shown), count: codes.length }];
}

/** What keeps an import from being undone; nothing where it can be. */
export function dependentsOf(db: Db, importIds: readonly number[]): Dependent[] {
  const ids = [...importIds];
  const ours = db.select({ id: cultures.id }).from(cultures).where(inArray(cultures.importId, ids));
  const ourEntries = db.select({ id: diary.id }).from(diary).where(inArray(diary.importId, ids));
  const notOurs = sql`(${diary.importId} IS NULL OR ${notInArray(diary.importId, ids)})`;
  const entries = (condition: SQL | undefined) =>
    db
      .select({ code: cultures.code })
      .from(diary)
      .innerJoin(cultures, eq(cultures.id, diary.cultureId))
      .where(and(notOurs, condition))
      .orderBy(asc(cultures.code))
      .all()
      .map((row) => row.code);
  const corrections = entries(or(inArray(diary.replacesId, ourEntries), inArray(diary.rootId, ourEntries)));
  const onOurs = entries(
    and(
      or(inArray(diary.cultureId, ours), inArray(diary.otherCultureId, ours)),
      sql`${diary.replacesId} IS NULL`,
    ),
  );
  return [
    ...dependent('entries written on its cultures since', onOurs),
    ...dependent('corrections of its entries', corrections),
    ...dependent('cultures that were split off its cultures since', childrenOf(db, ours, ids)),
    ...dependent('contacts written of its cultures since', contactsOf(db, ours, ourEntries)),
    ...dependent('orders that its cultures were promised to', promisesOn(db, ours)),
  ];
}

type Ids = SQLWrapper;

function childrenOf(db: Db, ours: Ids, importIds: number[]): string[] {
  const child = alias(cultures, 'child');
  return db
    .select({ code: child.code })
    .from(cultureParents)
    .innerJoin(child, eq(child.id, cultureParents.cultureId))
    .where(
      and(
        inArray(cultureParents.parentId, ours),
        sql`(${child.importId} IS NULL OR ${notInArray(child.importId, importIds)})`,
      ),
    )
    .orderBy(asc(child.code))
    .all()
    .map((row) => row.code);
}

function contactsOf(db: Db, ours: Ids, ourEntries: Ids): string[] {
  return db
    .select({ code: cultures.code })
    .from(contacts)
    .innerJoin(cultures, eq(cultures.id, contacts.toId))
    .where(
      or(inArray(contacts.fromId, ours), inArray(contacts.toId, ours), inArray(contacts.diaryId, ourEntries)),
    )
    .orderBy(asc(cultures.code))
    .all()
    .map((row) => row.code);
}

function promisesOn(db: Db, ours: Ids): string[] {
  return db
    .selectDistinct({ number: orders.number })
    .from(allocations)
    .innerJoin(orderLines, eq(orderLines.id, allocations.orderLineId))
    .innerJoin(orders, eq(orders.id, orderLines.orderId))
    .where(inArray(allocations.cultureId, ours))
    .orderBy(asc(orders.number))
    .all()
    .map((row) => `order ${row.number}`);
}

/** What an import brought, in numbers, for whoever is about to undo it. */
export function broughtBy(db: Db, importIds: readonly number[]) {
  const ids = [...importIds];
  const kinds = db
    .select({ kind: diary.kind, entries: sql<number>`count(*)` })
    .from(diary)
    .where(inArray(diary.importId, ids))
    .groupBy(diary.kind)
    .orderBy(sql`count(*) DESC`)
    .all();
  const days = db
    .select({ first: sql<string | null>`min(${diary.onDay})`, last: sql<string | null>`max(${diary.onDay})` })
    .from(diary)
    .where(inArray(diary.importId, ids))
    .get();
  const made = (table: 'cultures' | 'species' | 'enclosures' | 'places' | 'lines') =>
    sql<number>`(SELECT count(*) FROM ${sql.identifier(table)} t WHERE t.import_id IN ${ids})`;
  const counts = db
    .select({
      cultures: made('cultures'),
      species: made('species'),
      enclosures: made('enclosures'),
      places: made('places'),
      lines: made('lines'),
    })
    .from(imports)
    .limit(1)
    .get();
  return { kinds, days: days ?? { first: null, last: null }, made: counts! };
}
