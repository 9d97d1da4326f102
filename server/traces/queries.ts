import { and, asc, desc, eq, inArray, lt, notInArray, or, sql } from 'drizzle-orm';
import type { Trouble } from '../../shared/traces/form.ts';
import type { Look } from '../../shared/traces/sighting.ts';
import { isOpen } from '../orders/queries-open.ts';
import type { Db } from '../plumbing/open-database.ts';
import {
  allocations,
  cultureEstimates,
  cultures,
  customers,
  orderLines,
  orders,
  places,
  species,
  standingDiary,
} from '../schema/tables.ts';

type Asking = { cultureId: number; what: Trouble };

/** What an entry of the diary tells of a trouble. Of a wrong species no entry tells: each check was clear. */
function looks({ cultureId, what }: Asking) {
  const d = standingDiary;
  const seen = {
    mites: sql<number | null>`CASE ${d.kind} WHEN 'mites' THEN 1 ELSE ${d.mitesSeen} END`,
    mould: sql<number | null>`CASE ${d.kind} WHEN 'mould' THEN 1 ELSE ${d.mouldSeen} END`,
    'die-off': sql<
      number | null
    >`CASE WHEN ${d.kind} = 'die-off' THEN 1 WHEN coalesce(${d.deaths}, 0) = 0 THEN 0 END`,
    'wrong species': sql<number | null>`0`,
  }[what];
  const kind = what === 'wrong species' ? 'check' : what;
  return { seen, isLook: and(eq(d.cultureId, cultureId), or(eq(d.kind, 'check'), eq(d.kind, kind))) };
}

/**
 * The looks at a culture that say when a trouble was there: all that saw it, and before each of these days the last that
 * did not. A diary of years has thousands of others.
 */
export function looksFor(db: Db, asking: Asking, days: readonly string[]): Look[] {
  const d = standingDiary;
  const { seen, isLook } = looks(asking);
  const seenOn = db
    .selectDistinct({ onDay: d.onDay })
    .from(d)
    .where(and(isLook, sql`${seen} = 1`))
    .orderBy(asc(d.onDay))
    .all()
    .map(({ onDay }) => onDay);
  const clearOn = [...days, ...seenOn.slice(-1)].flatMap((before) =>
    db
      .select({ onDay: d.onDay })
      .from(d)
      .where(and(isLook, sql`${seen} = 0`, lt(d.onDay, before), notInArray(d.onDay, seenOn)))
      .orderBy(desc(d.onDay))
      .limit(1)
      .all(),
  );
  return [
    ...seenOn.map((onDay) => ({ onDay, seen: true })),
    ...clearOn.map(({ onDay }) => ({ onDay, seen: false })),
  ];
}

const oneOf = (column: typeof cultures.code | typeof orders.number, values: readonly (string | number)[]) =>
  sql`${column} IN (SELECT value FROM json_each(${JSON.stringify(values)}))`;

/** What the list of a trace says of each culture, by its code. */
export function culturesByCode(db: Db, codes: readonly string[]) {
  const rows = db
    .select({
      id: cultures.id,
      code: cultures.code,
      status: cultures.status,
      scientificName: species.scientificName,
      place: places.fullName,
      shelfOrder: places.shelfOrder,
      health: sql<string>`coalesce(${cultureEstimates.health}, 'well')`,
    })
    .from(cultures)
    .innerJoin(species, eq(species.id, cultures.speciesId))
    .leftJoin(places, eq(places.id, cultures.placeId))
    .leftJoin(cultureEstimates, eq(cultureEstimates.cultureId, cultures.id))
    .where(oneOf(cultures.code, codes))
    .all();
  return new Map(rows.map((row) => [row.code, row]));
}
export type TracedCulture = NonNullable<ReturnType<ReturnType<typeof culturesByCode>['get']>>;

/** Orders by their numbers, with whom they are for. */
export function ordersByNumber(db: Db, numbers: readonly number[]) {
  const rows = db
    .select({
      id: orders.id,
      number: orders.number,
      state: orders.state,
      sentOn: orders.sentOn,
      customer: { name: customers.name, email: customers.email },
    })
    .from(orders)
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .where(oneOf(orders.number, numbers))
    .all();
  return new Map(rows.map((row) => [row.number, row]));
}

/** What was taken out of which culture for each of these orders, in the order of the days. */
export function harvestsFor(db: Db, orderIds: readonly number[]) {
  return db
    .select({
      orderId: sql<number>`${standingDiary.orderId}`,
      code: cultures.code,
      scientificName: species.scientificName,
      onDay: standingDiary.onDay,
      animals: sql<number>`coalesce(${standingDiary.animals}, 0)`,
    })
    .from(standingDiary)
    .innerJoin(cultures, eq(cultures.id, standingDiary.cultureId))
    .innerJoin(species, eq(species.id, cultures.speciesId))
    .where(and(inArray(standingDiary.orderId, [...orderIds]), eq(standingDiary.kind, 'harvest')))
    .orderBy(asc(standingDiary.onDay), asc(cultures.code))
    .all();
}
export type HarvestFor = ReturnType<typeof harvestsFor>[number];

/** Animals of these cultures that are promised and not packed yet, order by order. */
export function openReservations(db: Db, cultureIds: readonly number[]) {
  return db
    .select({
      id: allocations.id,
      cultureId: allocations.cultureId,
      code: cultures.code,
      number: orders.number,
      state: orders.state,
      groups: allocations.groups,
      animals: allocations.animals,
      customerName: customers.name,
    })
    .from(allocations)
    .innerJoin(cultures, eq(cultures.id, allocations.cultureId))
    .innerJoin(orderLines, eq(orderLines.id, allocations.orderLineId))
    .innerJoin(orders, eq(orders.id, orderLines.orderId))
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .where(and(inArray(allocations.cultureId, [...cultureIds]), isOpen))
    .orderBy(asc(orders.number), asc(cultures.code), asc(allocations.id))
    .all();
}

/** The quarantines that somebody wrote in one step because of a culture, as far as they still stand. */
export function quarantinedInOneStep(
  db: Db,
  step: { becauseOf: number; madeBy: string; madeAt: number; onDay: string },
) {
  const d = standingDiary;
  return db
    .select({ id: d.id, cultureId: d.cultureId })
    .from(d)
    .where(
      and(
        eq(d.onDay, step.onDay),
        eq(d.kind, 'quarantine'),
        eq(d.madeBy, step.madeBy),
        eq(d.madeAt, step.madeAt),
        or(eq(d.otherCultureId, step.becauseOf), eq(d.cultureId, step.becauseOf)),
      ),
    )
    .all();
}
