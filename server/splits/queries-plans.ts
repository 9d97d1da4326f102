import { and, asc, eq, inArray, isNull, lte, ne, type SQL, sql } from 'drizzle-orm';
import type { Day } from '../../shared/days.ts';
import { fullFrom, fullOn } from '../../shared/splits/full-on.ts';
import type { PlanKind } from '../../shared/splits/plan-form.ts';
import type { Db } from '../plumbing/open-database.ts';
import {
  cultureEstimates,
  culturePlans,
  cultures,
  enclosures,
  feederSpecies,
  people,
  places,
  species,
} from '../schema/tables.ts';

/** Which entries of the diary say that what was planned is done. */
const doneBy: Record<PlanKind, SQL> = { split: sql`d.kind = 'split'`, repot: sql`d.substrate IS NOT NULL` };

const doneKinds = sql.join(
  Object.entries(doneBy).map(([what, isIt]) => sql`(${culturePlans.what} = ${what} AND ${isIt})`),
  sql` OR `,
);

/** Written after the plan was made, for a day since: a correction of an older entry keeps that one's place. */
const isWritten = sql`EXISTS (SELECT 1 FROM standing_diary d WHERE d.culture_id = ${culturePlans.cultureId}
  AND d.on_day >= ${culturePlans.madeOn} AND coalesce(d.root_id, d.id) > ${culturePlans.afterEntry}
  AND (${doneKinds}))`;

const isOpen = and(isNull(culturePlans.endedAt), ne(cultures.status, 'retired'), sql`NOT ${isWritten}`);

export type Plan = ReturnType<typeof openPlans>[number];

/** What is planned and not done yet, the earliest first: up to a day, or of one culture. */
export function openPlans(db: Db, which: { until?: Day; cultureId?: number } = {}) {
  const { until, cultureId } = which;
  return db
    .select({
      id: culturePlans.id,
      what: culturePlans.what,
      onDay: culturePlans.onDay,
      enclosures: culturePlans.enclosures,
      madeAt: culturePlans.madeAt,
      by: people.name,
      cultureId: cultures.id,
      code: cultures.code,
      morph: cultures.morph,
      place: places.fullName,
      speciesId: species.id,
      scientificName: species.scientificName,
      enclosureId: enclosures.id,
      enclosure: enclosures.name,
    })
    .from(culturePlans)
    .innerJoin(cultures, eq(cultures.id, culturePlans.cultureId))
    .innerJoin(species, eq(species.id, cultures.speciesId))
    .innerJoin(enclosures, eq(enclosures.id, culturePlans.enclosureId))
    .leftJoin(places, eq(places.id, cultures.placeId))
    .leftJoin(people, eq(people.id, culturePlans.madeBy))
    .where(
      and(
        isOpen,
        until === undefined ? undefined : lte(culturePlans.onDay, until),
        cultureId === undefined ? undefined : eq(culturePlans.cultureId, cultureId),
      ),
    )
    .orderBy(asc(culturePlans.onDay), asc(cultures.code), asc(culturePlans.id))
    .all();
}

type NewPlan = {
  cultureId: number;
  what: PlanKind;
  onDay: Day;
  enclosureId: number;
  enclosures: number;
  madeOn: Day;
  madeBy: string;
  madeAt: number;
};

/** Plans it; null where the same is planned already. */
export function addPlan(tx: Db, plan: NewPlan): number | null {
  const open = openPlans(tx, { cultureId: plan.cultureId });
  if (open.some(({ what }) => what === plan.what)) return null;
  const afterEntry = sql<number>`(SELECT coalesce(max(id), 0) FROM diary)`;
  return tx
    .insert(culturePlans)
    .values({ ...plan, afterEntry })
    .returning({ id: culturePlans.id })
    .get().id;
}

export type PlanEnd = { ended: 'cancelled' | 'done' | null; by: string; at: number };

/** Ends a plan, or takes that back (null); its culture and what it was, or null where there was nothing to do. */
export function endPlan(tx: Db, id: number, { ended, by, at }: PlanEnd) {
  const found = tx
    .select({ plan: culturePlans, code: cultures.code })
    .from(culturePlans)
    .innerJoin(cultures, eq(cultures.id, culturePlans.cultureId))
    .where(eq(culturePlans.id, id))
    .get();
  if (!found || (found.plan.endedAt === null) === (ended === null)) return null;
  const { what, onDay, cultureId } = found.plan;
  const again = ended === null && openPlans(tx, { cultureId }).some((plan) => plan.what === what);
  if (again) return null;
  const values =
    ended === null ? { ended, endedBy: null, endedAt: null } : { ended, endedBy: by, endedAt: at };
  tx.update(culturePlans).set(values).where(eq(culturePlans.id, id)).run();
  return { code: found.code, what, onDay };
}

export type Proposal = {
  code: string;
  scientificName: string;
  place: string | null;
  enclosureId: number;
  enclosure: string;
  fullOn: Day;
  /** What the day stands on: the estimate, what the enclosure holds, and from how many it counts as full. */
  median: number;
  capacity: number;
  fullFrom: number;
};

/** What is believed of cultures that may be split: healthy, and no feeders, which are started anew instead. */
function forecasts(db: Db, code: string | undefined) {
  return db
    .select({
      id: cultures.id,
      code: cultures.code,
      scientificName: species.scientificName,
      place: places.fullName,
      enclosureId: enclosures.id,
      enclosure: enclosures.name,
      asOf: cultureEstimates.asOf,
      median: cultureEstimates.median,
      capacity: cultureEstimates.capacityMedian,
      forecast: cultureEstimates.forecast,
    })
    .from(cultures)
    .innerJoin(species, eq(species.id, cultures.speciesId))
    .innerJoin(enclosures, eq(enclosures.id, cultures.enclosureId))
    .innerJoin(cultureEstimates, eq(cultureEstimates.cultureId, cultures.id))
    .leftJoin(places, eq(places.id, cultures.placeId))
    .leftJoin(feederSpecies, eq(feederSpecies.speciesId, cultures.speciesId))
    .where(
      and(
        eq(cultures.status, 'active'),
        isNull(feederSpecies.speciesId),
        isNull(cultureEstimates.fault),
        inArray(cultureEstimates.health, ['well', 'mould']),
        code === undefined ? undefined : eq(cultures.code, code),
      ),
    )
    .all();
}

/** Which cultures will likely be full up to a day and have no split planned, the fullest first. */
export function splitProposals(db: Db, until: Day, today: Day, code?: string): Proposal[] {
  const planned = new Set(
    openPlans(db).flatMap(({ what, cultureId }) => (what === 'split' ? [cultureId] : [])),
  );
  return forecasts(db, code)
    .flatMap(({ id, asOf, median, capacity, forecast, ...culture }) => {
      if (planned.has(id) || median === null || capacity === null) return [];
      const weeks = forecast ? (JSON.parse(forecast) as { date: Day; median: number }[]) : [];
      const day = fullOn({ asOf, median, capacity, forecast: weeks });
      return day === null || day > until
        ? []
        : [{ ...culture, median, capacity, fullFrom: fullFrom(capacity), fullOn: day < today ? today : day }];
    })
    .sort((a, b) => a.fullOn.localeCompare(b.fullOn) || a.code.localeCompare(b.code, 'en'));
}
