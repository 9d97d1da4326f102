import { and, asc, desc, eq, inArray } from 'drizzle-orm';
import type { Day } from '../../shared/days.ts';
import { judgeMovement, type MovementFinding } from '../../shared/movement/judge.ts';
import { recogniseRegion } from '../../shared/movement/regions.ts';
import type { KnownPlace, MovementRule } from '../../shared/movement/rule.ts';
import { isCountryCode } from '../../shared/settings/countries.ts';
import type { Db } from '../plumbing/open-database.ts';
import { business, customers, orderLines, orders, species } from '../schema/tables.ts';
import { originRegion, rulesInForce } from './queries-rules.ts';

export type Permit = { number: string; expiresOn: Day | null; rule: string };

/** What the owner's rules say of one order. */
export type Movement = {
  /** The day it is judged for: the dispatch day, or today where there is none or it has passed. */
  day: Day;
  blocks: MovementFinding[];
  warnings: MovementFinding[];
  /** Permits that are valid on that day, for the sheet. */
  permits: Permit[];
};

const noMovement = (day: Day): Movement => ({ day, blocks: [], warnings: [], permits: [] });

/** An address as far as rules can know it: what is not recognised is not known. */
function knownPlace(country: string, region: string): KnownPlace {
  const code = country.trim().toUpperCase();
  if (!isCountryCode(code)) return { country: null, region: null };
  return { country: code, region: recogniseRegion(code, region) };
}

function origin(db: Db): KnownPlace {
  const own = db.select({ country: business.country }).from(business).get()?.country ?? '';
  const region = originRegion(db);
  return knownPlace(own, region?.startsWith(`${own}-`) ? region : '');
}

function speciesOf(db: Db, orderId: number) {
  return db
    .select({ id: species.id, scientificName: species.scientificName, animalGroup: species.animalGroup })
    .from(orderLines)
    .innerJoin(species, eq(species.id, orderLines.speciesId))
    .where(and(eq(orderLines.orderId, orderId), eq(orderLines.withdrawn, false)))
    .orderBy(asc(orderLines.position), asc(orderLines.id))
    .all();
}

const permitsOf = (findings: readonly MovementFinding[]): Permit[] =>
  findings
    .filter(({ weight, reason }) => weight === 'permit' || reason === 'permit ends soon')
    .map(({ rule }) => ({ number: rule.permitNumber, expiresOn: rule.permitExpiresOn, rule: rule.name }));

function judged(
  db: Db,
  rules: readonly MovementRule[],
  from: KnownPlace,
  orderId: number,
  day: (dispatchOn: Day | null) => Day,
): Movement {
  const row = db
    .select({ dispatchOn: orders.dispatchOn, country: customers.country, region: customers.region })
    .from(orders)
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .where(eq(orders.id, orderId))
    .get();
  const onDay = day(row?.dispatchOn ?? null);
  if (!row || rules.length === 0) return noMovement(onDay);
  const to = knownPlace(row.country, row.region);
  const findings = judgeMovement(rules, { from, to, species: speciesOf(db, orderId), onDay });
  return {
    day: onDay,
    blocks: findings.filter(({ weight }) => weight === 'block'),
    warnings: findings.filter(({ weight }) => weight === 'warn'),
    permits: permitsOf(findings),
  };
}

const beforeLeaving = ['draft', 'confirmed', 'packed'] as const;
const isBeforeLeaving = (state: string) => (beforeLeaving as readonly string[]).includes(state);

const atTheEarliest = (today: Day) => (dispatchOn: Day | null) =>
  dispatchOn === null || dispatchOn < today ? today : dispatchOn;

/** What stands against an order that has not left, what to mind, and the permits to print. */
export const movementOf = (db: Db, orderId: number, today: Day): Movement =>
  judged(db, rulesInForce(db), origin(db), orderId, atTheEarliest(today));

/** The same where it still matters: until the parcel has left. */
export const movementBeforeLeaving = (
  db: Db,
  { id, state }: Pick<typeof orders.$inferSelect, 'id' | 'state'>,
  today: Day,
): Movement => (isBeforeLeaving(state) ? movementOf(db, id, today) : noMovement(today));

/** The same for many orders, by the order's id. */
export function movementOfOrders(db: Db, orderIds: readonly number[], today: Day): Map<number, Movement> {
  const rules = rulesInForce(db);
  const from = origin(db);
  return new Map(orderIds.map((id) => [id, judged(db, rules, from, id, atTheEarliest(today))]));
}

/** A customer's orders that have not left yet and that a rule stands against or warns of, the newest first. */
export function movementOfCustomer(db: Db, customerId: number, today: Day) {
  const open = db
    .select({ id: orders.id, number: orders.number })
    .from(orders)
    .where(and(eq(orders.customerId, customerId), inArray(orders.state, [...beforeLeaving])))
    .orderBy(desc(orders.number))
    .limit(20)
    .all();
  const ids = open.map(({ id }) => id);
  const found = movementOfOrders(db, ids, today);
  return open.flatMap(({ id, number }) => {
    const one = found.get(id);
    return one && one.blocks.length + one.warnings.length > 0 ? [{ ...one, number }] : [];
  });
}

/** The same for the day a parcel leaves or left, whatever its order says. */
export const movementOn = (db: Db, orderId: number, day: Day): Movement =>
  judged(db, rulesInForce(db), origin(db), orderId, () => day);
