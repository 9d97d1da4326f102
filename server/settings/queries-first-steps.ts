import { and, desc, eq, inArray, isNotNull, isNull, ne, type SQL } from 'drizzle-orm';
import type { SQLiteTable } from 'drizzle-orm/sqlite-core';
import { type Begun, firstSteps } from '../../shared/settings/first-steps.ts';
import type { Db } from '../plumbing/open-database.ts';
import {
  cultureEstimates,
  cultures,
  enclosures,
  firstStepsAway,
  orders,
  places,
  species,
} from '../schema/tables.ts';

const packedStates = ['packed', 'sent', 'closed'] as const;

const hasAny = (db: Db, table: SQLiteTable, which?: SQL) =>
  db.select().from(table).where(which).limit(1).get() !== undefined;

const standing = isNull(cultures.takenBackAt);
const kept = and(standing, ne(cultures.status, 'retired'));

/** Kept cultures with their estimates: the first by `order`. */
const firstCulture = (db: Db, which: SQL | undefined, ...order: (SQL | typeof cultures.id)[]) =>
  db
    .select({ code: cultures.code, spareGroups: cultureEstimates.spareGroups })
    .from(cultures)
    .innerJoin(cultureEstimates, eq(cultureEstimates.cultureId, cultures.id))
    .where(and(kept, which))
    .orderBy(...order)
    .limit(1)
    .get() ?? null;

function ofCultures(db: Db): Pick<Begun, 'cultures' | 'toCount' | 'counted' | 'toSplit' | 'split'> {
  return {
    cultures: hasAny(db, cultures, standing),
    toCount: firstCulture(db, isNull(cultureEstimates.lastCountOn), cultures.id)?.code ?? null,
    counted: hasAny(db, cultureEstimates, isNotNull(cultureEstimates.lastCountOn)),
    toSplit: firstCulture(db, undefined, desc(cultureEstimates.spareGroups), cultures.id),
    split: hasAny(db, cultures, and(standing, eq(cultures.origin, 'split'))),
  };
}

/** What of the first steps there is. */
export function readBegun(db: Db): Begun {
  const toPack = db
    .select({ number: orders.number, state: orders.state })
    .from(orders)
    .where(inArray(orders.state, ['draft', 'confirmed']))
    .orderBy(desc(orders.id))
    .limit(1)
    .get();
  return {
    species: hasAny(db, species),
    enclosures: hasAny(db, enclosures),
    places: hasAny(db, places),
    ...ofCultures(db),
    orders: hasAny(db, orders),
    toPack: toPack ? { number: toPack.number, confirmed: toPack.state === 'confirmed' } : null,
    packed: hasAny(db, orders, inArray(orders.state, [...packedStates])),
  };
}

export const isPutAway = (db: Db): boolean => hasAny(db, firstStepsAway);

export function putAway(tx: Db, by: { personId: string; now: number }) {
  tx.insert(firstStepsAway)
    .values({ id: 1, madeBy: by.personId, madeAt: by.now })
    .onConflictDoNothing()
    .run();
}

export function bringBack(tx: Db) {
  tx.delete(firstStepsAway).run();
}

/** What an owner's first page shows: null once the list was put away, or all is done. */
export function begunToShow(db: Db): Begun | null {
  if (isPutAway(db)) return null;
  const begun = readBegun(db);
  return firstSteps(begun).every(({ done }) => done) ? null : begun;
}
