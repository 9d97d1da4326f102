import { h } from 'preact';
import { isSpent, mondayOf, weeklyDemand } from '../../shared/feeders/demand.ts';
import { feeders } from '../../shared/feeders/feeders.ts';
import { type FeederPlan, FeedersPage } from '../../views/feeders/page-feeders.tsx';
import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import type { Db } from '../plumbing/open-database.ts';
import { eatersOf, feederList, runningCultures, speciesChoices } from './queries.ts';

/** Farther ahead neither the colonies nor the feeders can be foretold. */
const weeksAhead = 10;

/** What one feeder species has, needs and wants started. */
async function planOf(
  db: Db,
  { figures, ...names }: ReturnType<typeof feederList>[number],
  today: string,
): Promise<FeederPlan> {
  const { speciesId, safety, ...culture } = figures;
  const running = runningCultures(db, speciesId);
  const eaters = eatersOf(db, speciesId);
  const given = running.map(({ startedOn }) => ({ startedOn, cultures: 1 }));
  const weeks = weeklyDemand(eaters, today, weeksAhead);
  const plan = await feeders({ weeks, culture, running: given, safety });
  const thisWeek = plan.starts.find(({ weekStart }) => weekStart === mondayOf(today))?.cultures ?? 0;
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
  };
}

export async function showFeeders(call: StaffCall): Promise<Answer> {
  const { db, today, furniture, who } = call;
  const plans: FeederPlan[] = [];
  for (const feeder of feederList(db)) plans.push(await planOf(db, feeder, today));
  const planned = new Set(plans.map(({ speciesId }) => speciesId));
  const mayEdit = who.role === 'owner';
  return page(
    h(FeedersPage, {
      furniture,
      plans,
      mayEdit,
      others: mayEdit ? speciesChoices(db).filter(({ id }) => !planned.has(id)) : [],
    }),
  );
}
