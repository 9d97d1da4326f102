import { asc, eq, isNull, sql } from 'drizzle-orm';
import type { MovementRule, RuleAbout } from '../../shared/movement/rule.ts';
import type { Db } from '../plumbing/open-database.ts';
import { movementOrigin, movementRules } from '../schema/tables.ts';

export type MovementRow = typeof movementRules.$inferSelect;
export type MovementValues = Omit<MovementRow, 'id' | 'madeAt' | 'retiredAt'>;

export const readRule = (db: Db, id: number): MovementRow | undefined =>
  db.select().from(movementRules).where(eq(movementRules.id, id)).get();
export const ruleNamed = (db: Db, name: string): MovementRow | undefined =>
  db.select().from(movementRules).where(eq(movementRules.name, name)).get();

export const insertRule = (tx: Db, values: MovementValues, madeAt: number): number =>
  tx
    .insert(movementRules)
    .values({ ...values, madeAt })
    .returning({ id: movementRules.id })
    .get().id;

export function updateRule(tx: Db, id: number, values: Partial<MovementValues>) {
  tx.update(movementRules).set(values).where(eq(movementRules.id, id)).run();
}
export function setRuleRetired(tx: Db, id: number, retiredAt: number | null) {
  tx.update(movementRules).set({ retiredAt }).where(eq(movementRules.id, id)).run();
}

/** All rules by name, those given up last. */
export const listRules = (db: Db): MovementRow[] =>
  db
    .select()
    .from(movementRules)
    .orderBy(sql`${movementRules.retiredAt} IS NOT NULL`, asc(movementRules.name))
    .all();

function aboutOf({ about, animalGroup, genus, speciesId }: MovementValues): RuleAbout {
  if (about === 'group' && animalGroup !== null) return { kind: 'group', animalGroup };
  if (about === 'genus' && genus !== null) return { kind: 'genus', genus };
  if (about === 'species' && speciesId !== null) return { kind: 'species', speciesId };
  return { kind: 'all' };
}

/** A rule as the calculation takes it. */
export const ruleOf = (row: MovementRow): MovementRule => ({
  id: row.id,
  name: row.name,
  from: { country: row.fromCountry, region: row.fromRegion },
  to: { country: row.toCountry, region: row.toRegion },
  border: row.border,
  about: aboutOf(row),
  effect: row.effect,
  words: row.words,
  source: row.source,
  checkedOn: row.checkedOn,
  permitNumber: row.permitNumber,
  permitExpiresOn: row.permitExpiresOn,
});

/** The rules that hold, by name. */
export const rulesInForce = (db: Db): MovementRule[] =>
  db
    .select()
    .from(movementRules)
    .where(isNull(movementRules.retiredAt))
    .orderBy(asc(movementRules.name))
    .all()
    .map(ruleOf);

/** The region parcels start in; null where the owner has not said. */
export const originRegion = (db: Db): string | null =>
  db.select({ region: movementOrigin.region }).from(movementOrigin).get()?.region ?? null;

export function saveOriginRegion(tx: Db, region: string | null) {
  if (region === null) tx.delete(movementOrigin).run();
  else
    tx.insert(movementOrigin)
      .values({ id: 1, region })
      .onConflictDoUpdate({ target: movementOrigin.id, set: { region } })
      .run();
}
