import { and, asc, desc, eq, inArray, lt, notInArray, or, type SQL, sql } from 'drizzle-orm';
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

/**
 * What a check tells of a trouble: that it was there, that it was not. No check tells of a wrong species, so each was clear;
 * a die-off is an entry of its own. Asked for one by one, since all checks of a long diary would be read otherwise.
 */
const atChecks: Record<Trouble, { seen: SQL | null; clear: SQL }> = {
  mites: { seen: sql`${standingDiary.mitesSeen} = 1`, clear: sql`${standingDiary.mitesSeen} = 0` },
  mould: { seen: sql`${standingDiary.mouldSeen} = 1`, clear: sql`${standingDiary.mouldSeen} = 0` },
  'die-off': { seen: null, clear: sql`coalesce(${standingDiary.deaths}, 0) = 0` },
  'wrong species': { seen: null, clear: sql`1` },
};

const isOf = (kind: 'check' | Trouble) => sql`${standingDiary.kind} = ${kind}`;
/** The plus keeps it to the few that bear the sign, which have an index of their own. */
const isCheckWith = (sign: SQL) => sql`+${isOf('check')} AND ${sign}`;

/** The days of a culture's entries that tell what is asked. */
function daysOf(db: Db, cultureId: number, ...telling: SQL[]) {
  const d = standingDiary;
  return db
    .selectDistinct({ onDay: d.onDay })
    .from(d)
    .where(and(eq(d.cultureId, cultureId), ...telling));
}

/**
 * The looks at a culture that say when a trouble was there: all that saw it, and before each of these days the last that
 * did not. A diary of years has thousands of others.
 */
export function looksFor(db: Db, { cultureId, what }: Asking, days: readonly string[]): Look[] {
  const { seen, clear } = atChecks[what];
  const asDays = (rows: { onDay: string }[]) => rows.map(({ onDay }) => onDay);
  const noted = asDays(daysOf(db, cultureId, isOf(what)).all());
  const seenAtChecks = seen ? asDays(daysOf(db, cultureId, isCheckWith(seen)).all()) : [];
  const seenOn = [...new Set([...noted, ...seenAtChecks])].sort();
  const { onDay } = standingDiary;
  const clearOn = [...days, ...seenOn.slice(-1)].flatMap((before) =>
    asDays(
      daysOf(db, cultureId, isOf('check'), clear, lt(onDay, before), notInArray(onDay, seenOn))
        .orderBy(desc(onDay))
        .limit(1)
        .all(),
    ),
  );
  return [
    ...seenOn.map((day) => ({ onDay: day, seen: true })),
    ...clearOn.map((day) => ({ onDay: day, seen: false })),
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
