import { h } from 'preact';
import { addDays } from '../../shared/days.ts';
import { type PlanKind, planForm, planKinds } from '../../shared/splits/plan-form.ts';
import { cultureHref } from '../../views/cultures/page-list.tsx';
import { formatDay } from '../../views/layout/format.ts';
import { PlanPage } from '../../views/splits/page-plan.tsx';
import { planWords } from '../../views/splits/say-plan.ts';
import type { LoadedCulture } from '../cultures/queries.ts';
import { loadKeptCulture } from '../cultures/queries-kept.ts';
import { offeredEnclosures } from '../enclosures/queries.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import { addPlan, endPlan, type PlanEnd, splitProposals } from './queries-plans.ts';

/** Nobody plans a shelf further ahead, and a year mistyped is noticed. */
const mostDaysAhead = 400;

const load = (call: StaffCall) => loadKeptCulture(call.db, call.params.code ?? '', 'planned');

function planPage(call: StaffCall, { culture, species, place }: LoadedCulture, form: FormState) {
  const horizon = addDays(call.today, 60);
  return h(PlanPage, {
    furniture: call.furniture,
    code: culture.code,
    scientificName: species.scientificName,
    place: place?.fullName ?? null,
    enclosures: offeredEnclosures(call.db, culture.enclosureId).map(({ id, name }) => ({ id, name })),
    full: splitProposals(call.db, horizon, call.today, culture.code)[0] ?? null,
    today: call.today,
    form,
  });
}

const isKind = (text: string | undefined): text is PlanKind =>
  (planKinds as readonly string[]).includes(text ?? '');

export function askPlan(call: StaffCall): Answer {
  const loaded = load(call);
  const { culture } = loaded;
  const what = isKind(call.query.what) ? call.query.what : 'split';
  const proposed = splitProposals(call.db, addDays(call.today, 60), call.today, culture.code)[0]?.fullOn;
  const values = {
    what,
    onDay: (what === 'split' ? proposed : undefined) ?? call.today,
    enclosureId: culture.enclosureId,
    enclosures: 1,
  };
  return page(planPage(call, loaded, { values, errors: {} }));
}

export function savePlan(call: StaffCall): Answer {
  const loaded = load(call);
  const { culture } = loaded;
  const read = readForm(planForm, call.body);
  if (!read.ok) return wrongForm(planPage(call, loaded, read.form));
  const { back, ...plan } = read.data;
  const errors: Record<string, string> = {};
  if (plan.onDay < call.today) errors.onDay = 'That day is over. Choose today or a later one.';
  if (plan.onDay > addDays(call.today, mostDaysAhead)) errors.onDay = 'That is too far ahead.';
  if (!offeredEnclosures(call.db, culture.enclosureId).some(({ id }) => id === plan.enclosureId))
    errors.enclosureId = 'Choose an enclosure of the list.';
  if (Object.keys(errors).length > 0) return wrongForm(planPage(call, loaded, withErrors(read.form, errors)));
  const made = { cultureId: culture.id, madeOn: call.today, madeBy: call.who.id, madeAt: call.clock.now() };
  const id = call.once((tx) => addPlan(tx, { ...plan, ...made }));
  if (id === null) {
    const what = 'This is planned for the culture already: call that off first.';
    return wrongForm(planPage(call, loaded, withErrors(read.form, { what })));
  }
  const day = formatDay(plan.onDay, call.business.locale, 'weekday');
  return redirect(back === 'substrate' ? '/substrate' : cultureHref(culture.code), {
    text: `${culture.code}: ${planWords[plan.what]} planned for ${day}.`,
    tone: 'plain',
    undo: { action: `/plans/${id}/cancel`, label: 'Undo', fields: { back } },
  });
}

const backTo = (call: StaffCall, code: string) =>
  call.body.back === 'substrate' ? '/substrate' : cultureHref(code);

function end(call: StaffCall, ended: PlanEnd['ended'], word: string): Answer {
  const id = numberIn(call, 'id', 'plan');
  const by = { by: call.who.id, at: call.clock.now() };
  const plan = call.once((tx) => endPlan(tx, id, { ended, ...by }));
  if (!plan) return redirect('/substrate', 'Nothing to change: somebody was quicker.');
  return redirect(backTo(call, plan.code), {
    text: `${plan.code}: ${planWords[plan.what]} ${word}.`,
    tone: 'plain',
    ...(ended !== null && {
      undo: {
        action: `/plans/${id}/resume`,
        label: 'Undo',
        fields: { back: call.body.back === 'substrate' ? 'substrate' : 'culture' },
      },
    }),
  });
}

export const cancelPlan = (call: StaffCall): Answer => end(call, 'cancelled', 'called off');
export const finishPlan = (call: StaffCall): Answer => end(call, 'done', 'marked as done');
export const resumePlan = (call: StaffCall): Answer => end(call, null, 'planned again');
