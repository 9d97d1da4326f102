import { h } from 'preact';
import { addDays, type Day, daysBetween } from '../../shared/days.ts';
import { sectionOf } from '../../shared/enclosures/section.ts';
import { measuresOf } from '../../shared/enclosures/volume.ts';
import { exactLength } from '../../shared/settings/units.ts';
import { firstWeekdayOf } from '../../shared/settings/week.ts';
import type { SubstrateLayer } from '../../shared/species/columns.ts';
import { weekEnd } from '../../shared/splits/plan-form.ts';
import { type Filling, mixList } from '../../shared/substrate/batches.ts';
import { spanForm } from '../../shared/substrate/form.ts';
import { shoppingList } from '../../shared/substrate/shopping.ts';
import { chooseRecipe, type RecipeSource } from '../../shared/substrate/starting-recipe.ts';
import { SubstratePage } from '../../views/substrate/page-substrate.tsx';
import { renewalsWithin } from '../checks/queries-substrate.ts';
import { readEnclosure } from '../enclosures/queries.ts';
import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import type { Db } from '../plumbing/open-database.ts';
import { readLayers } from '../species/queries.ts';
import { openPlans, type Plan, splitProposals } from '../splits/queries-plans.ts';
import { ownRecipe, pairsInUse, readMaterials, readSpare } from './queries.ts';

/** More proposals than anybody splits in a week are only counted. */
const mostProposals = 8;

type Origin = { plan: Plan; from: RecipeSource };

/** What a plan fills, with the recipe for it. */
function fillingOf(db: Db, plan: Plan): Filling<Origin> | null {
  const enclosure = readEnclosure(db, plan.enclosureId);
  if (!enclosure) return null;
  const measures = measuresOf(enclosure);
  const { from, layers } = recipeFor(db, plan.speciesId, enclosure);
  const { id, name } = enclosure;
  return {
    enclosure: { id, name, measures },
    layers,
    enclosures: plan.enclosures,
    origin: { plan, from },
  };
}

/** The recipe that is mixed for a species in an enclosure. */
export function recipeFor(
  db: Db,
  speciesId: number,
  enclosure: { id: number; heightMm: number },
): { from: RecipeSource; layers: SubstrateLayer[] } {
  const own = ownRecipe(db, speciesId, enclosure.id);
  const species = own.length > 0 ? [] : readLayers(db, speciesId);
  return chooseRecipe({ own, species, heightMm: enclosure.heightMm });
}

/** Cultures whose substrate is old by then, and for which nothing is planned. */
function renewalsToPlan(db: Db, today: Day, until: Day) {
  const planned = new Set(openPlans(db).map(({ cultureId }) => cultureId));
  return renewalsWithin(db, today, daysBetween(today, until)).filter(
    ({ cultureId }) => !planned.has(cultureId),
  );
}

export function showSubstrate(call: StaffCall): Answer {
  const { db, today, business } = call;
  const { weeks } = spanForm.parse({ weeks: call.query.weeks });
  const until = addDays(weekEnd(today, firstWeekdayOf(business.locale)), (weeks - 1) * 7);
  const plans = openPlans(db, { until });
  const spare = readSpare(db);
  const fillings = plans.map((plan) => fillingOf(db, plan)).filter((filling) => filling !== null);
  const { batches, totals } = mixList(fillings, spare, (lengthMm) =>
    exactLength(lengthMm, business.units, business.locale),
  );
  const proposals = splitProposals(db, until, today);
  const renewals = renewalsToPlan(db, today, until);
  return page(
    h(SubstratePage, {
      furniture: call.furniture,
      units: business.units,
      today,
      weeks,
      until,
      spare,
      plans,
      batches: batches.map((batch) => ({
        ...batch,
        section: sectionOf(batch.enclosure.measures, batch.layers),
      })),
      shopping: shoppingList(totals, readMaterials(db)),
      proposals: proposals.slice(0, mostProposals),
      moreProposals: Math.max(0, proposals.length - mostProposals),
      renewals: renewals
        .slice(0, mostProposals)
        .map((renewal) => ({ ...renewal, enclosure: readEnclosure(db, renewal.enclosureId)?.name ?? '' })),
      moreRenewals: Math.max(0, renewals.length - mostProposals),
      pairs: pairsInUse(db),
      mayEdit: call.who.role === 'owner',
    }),
  );
}
