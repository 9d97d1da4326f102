import { eatsInWeek, isSpent, weeklyDemand } from '../../shared/feeders/demand.ts';
import { givesInWeek } from '../../shared/feeders/supply.ts';
import { firstWeekdayOf, weekStart } from '../../shared/settings/week.ts';
import type { FeederPlan } from '../../views/feeders/page-feeders.tsx';
import { type Mark, type Touched, touchedSince } from '../cultures/queries-touched.ts';
import type { Db } from '../plumbing/open-database.ts';
import { readBusiness } from '../settings/queries.ts';
import { dietsOn, eaterPrints, eatersOf, type FeederOnList, feederList, runningCultures } from './queries.ts';
import { feedersInThread } from './solve-in-thread.ts';

/** Farther ahead neither the colonies nor the feeders can be foretold. */
const weeksAhead = 10;

/** The first day of this week, as weeks go at the business. */
const thisWeekOf = (db: Db, today: string) => weekStart(today, firstWeekdayOf(readBusiness(db).locale));

/** What one feeder species has, needs and wants started. */
export async function planOf(
  db: Db,
  { figures, ...names }: FeederOnList,
  today: string,
): Promise<FeederPlan> {
  const { speciesId, safety, ...culture } = figures;
  const running = runningCultures(db, speciesId);
  const eaters = eatersOf(db, speciesId);
  const given = running.map(({ startedOn }) => ({ startedOn, cultures: 1 }));
  const weeks = weeklyDemand(eaters, today, weeksAhead, firstWeekdayOf(readBusiness(db).locale));
  const plan = await feedersInThread({ weeks, culture, running: given, safety });
  const begins = thisWeekOf(db, today);
  const thisWeek = plan.starts.find((start) => start.weekStart === begins)?.cultures ?? 0;
  return {
    ...names,
    speciesId,
    safety,
    eaters: eaters.length,
    running: running.filter(({ startedOn }) => !isSpent(startedOn, culture, today)).length,
    spent: running.filter(({ startedOn }) => isSpent(startedOn, culture, today)).map(({ code }) => code),
    startNow: thisWeek,
    starts: plan.starts,
    weeks: plan.weeks,
    culture,
    thisWeek: {
      eats: eaters.map((eater) => ({
        code: eater.code,
        perWeek: eater.perWeek,
        ...eatsInWeek(eater, begins),
      })),
      gives: running.map(({ code, startedOn }) => ({
        code,
        animals: givesInWeek(culture, startedOn, begins),
      })),
    },
  };
}

export type FeederStart = {
  feederId: number;
  scientificName: string;
  commonName: string;
  /** How many are still to be started this week, and how many were. */
  toStart: number;
  started: number;
  eaters: number;
  leadDays: number;
  /** What the number comes from. */
  plan: FeederPlan;
};

type Kept = { key: string; mark: Mark; eaters: Map<number, string>; plan: Promise<FeederPlan> };
/** A round is opened all day; the plan changes with its figures, its cultures and what the colonies eat. */
const kept = new WeakMap<Db, Map<number, Kept>>();

/** Looked at one by one; where more were touched, the plan is worked out anew. */
const mostOneByOne = 300;

function eatTheSame(db: Db, feederId: number, { eaters }: Kept, touched: Touched['cultures']): boolean {
  if (touched === 'all' || touched.size > mostOneByOne) return false;
  if (touched.size === 0) return true;
  const now = eaterPrints(db, feederId, [...touched]);
  return [...touched].every((id) => now.get(id) === eaters.get(id));
}

function keptPlan(db: Db, feeder: FeederOnList, today: string): Promise<FeederPlan> {
  const { speciesId } = feeder.figures;
  const diets = [...dietsOn(db, speciesId)];
  const key = JSON.stringify([today, thisWeekOf(db, today), feeder, diets, runningCultures(db, speciesId)]);
  const plans = kept.get(db) ?? new Map<number, Kept>();
  kept.set(db, plans);
  const before = plans.get(speciesId);
  const { mark, cultures: touched } = touchedSince(db, before?.mark ?? null);
  if (before?.key === key && eatTheSame(db, speciesId, before, touched)) {
    before.mark = mark;
    return before.plan;
  }
  const plan = planOf(db, feeder, today);
  plans.set(speciesId, { key, mark, eaters: eaterPrints(db, speciesId), plan });
  plan.catch(() => plans.delete(speciesId)); // asked for again, it says again what is wrong
  return plan;
}

/** Which feeder cultures the plan wants started this week, and how many of them were. */
export async function startsThisWeek(db: Db, today: string): Promise<FeederStart[]> {
  const begins = thisWeekOf(db, today);
  const starts: FeederStart[] = [];
  for (const feeder of feederList(db)) {
    const { speciesId: feederId, leadDays } = feeder.figures;
    const plan = await keptPlan(db, feeder, today);
    const { startNow: toStart, eaters, scientificName, commonName } = plan;
    const started = runningCultures(db, feederId).filter(({ startedOn }) => startedOn >= begins).length;
    if (eaters > 0 && toStart + started > 0)
      starts.push({ feederId, scientificName, commonName, toStart, started, eaters, leadDays, plan });
  }
  return starts;
}
