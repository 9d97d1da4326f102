import { h } from 'preact';
import { type FeederPlan, FeedersPage } from '../../views/feeders/page-feeders.tsx';
import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { feederList, speciesChoices } from './queries.ts';
import { planOf } from './queries-plan.ts';

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
