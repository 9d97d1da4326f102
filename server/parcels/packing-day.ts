import { h } from 'preact';
import { formatCount } from '../../views/layout/format.ts';
import { PackingDayPage } from '../../views/parcels/page-packing-day.tsx';
import { orderById } from '../orders/queries.ts';
import { type Answer, page, redirect } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { byOf, type Chosen, choose, takeBack } from './choose.ts';
import { type DayToPack, dayToPack } from './day-question.ts';
import { decisionOn, keptDecision, lookAt } from './decide.ts';
import { movementWarnings } from './movement-warnings.ts';
import { cardOf, inTurn } from './packing-card.ts';
import { choicesOfBatch, promisedStock } from './queries-choices.ts';
import { mostOrders, ordersToPack } from './queries-day.ts';
import { listBoxes, listPacks } from './queries-stock.ts';
import { workOutDay } from './work-out-day.ts';

/** Of what more is decided than there is. */
function shortOf(call: StaffCall): string[] {
  const promised = promisedStock(call.db, null);
  const words = (
    list: { id: number; name: string; numberLeft: number | null }[],
    of: ReadonlyMap<number, number>,
  ) =>
    list.flatMap(({ id, name, numberLeft }) => {
      const needed = of.get(id) ?? 0;
      return numberLeft !== null && needed > numberLeft ? [`${name}, ${needed} of ${numberLeft}`] : [];
    });
  return [...words(listBoxes(call.db), promised.boxes), ...words(listPacks(call.db), promised.packs)];
}

export async function showPackingDay(call: StaffCall): Promise<Answer> {
  const waiting = ordersToPack(call.db);
  const day = await dayToPack(call, waiting);
  const outlooks = await workOutDay(day.question);
  const warnings = movementWarnings(call, waiting);
  const cards = day.orders.map((one) =>
    cardOf(one, outlooks.get(one.order.id), call.business, warnings.get(one.order.id) ?? []),
  );
  return page(
    h(PackingDayPage, {
      furniture: call.furniture,
      cards: inTurn(cards),
      places: day.orders.flatMap(({ places }) => places),
      staleHours: day.habits.staleHours,
      now: call.clock.now(),
      units: call.business.units,
      mayDecide: call.who.role === 'owner',
      isCut: waiting.length === mostOrders,
      short: shortOf(call),
    }),
  );
}

/** The orders a form names, each with the version it was shown in. */
function asked(call: StaffCall): Map<number, string> {
  const versions = new Map<number, string>();
  for (const [name, value] of Object.entries(call.body)) {
    const number = /^order-([1-9]\d{0,14})$/.exec(name)?.[1];
    if (number !== undefined && typeof value === 'string') versions.set(Number(number), value);
  }
  return versions;
}

/** The best of every order that a form names and for which nothing is decided yet, looked at closely. */
async function bestDecisions(call: StaffCall, day: DayToPack, versions: ReadonlyMap<number, string>) {
  const outlooks = await workOutDay(day.question);
  return day.orders.flatMap((one) => {
    const version = versions.get(one.order.number);
    const best = outlooks.get(one.order.id)?.best;
    const looked = version !== undefined && best && !one.choice ? lookAt(day, one, call) : null;
    if (!best || version === undefined || !looked || 'why' in looked) return [];
    const decision = decisionOn(day, one, looked.judged, best);
    const isSafe = decision && decision.why.length === 0 && decision.never === null;
    const kept = isSafe ? keptDecision(call.db, one, looked.judged, decision) : null;
    return kept ? [{ number: one.order.number, version, kept }] : [];
  });
}

type Taken = { done: number[]; left: number[]; gone: string[] };

/** Takes the best for every order that still is as it was shown, in one step that is taken back as one. */
export async function takeBest(call: StaffCall): Promise<Answer> {
  const versions = asked(call);
  const batch = String(call.body.formKey ?? '').slice(0, 120);
  const waiting = ordersToPack(call.db).filter(({ number }) => versions.has(number));
  const day = await dayToPack(call, waiting);
  const decisions = await bestDecisions(call, day, versions);
  const taken = call.once((tx): Taken => {
    const came: Taken = { done: [], left: [], gone: [] };
    for (const { number, version, kept } of decisions) {
      const outcome: Chosen = choose(
        tx,
        kept,
        { number, version, reason: null, batch, tell: false },
        byOf(call),
      );
      if (outcome.done) came.done.push(number);
      else if (outcome.why === 'gone') came.gone.push(`order ${number}: ${outcome.words}`);
    }
    came.left = [...versions.keys()].filter((number) => !came.done.includes(number));
    return came;
  });
  return redirect('/parcels/packing', noticeOf(taken, batch));
}

function noticeOf({ done, left, gone }: Taken, batch: string) {
  const rest =
    left.length === 0
      ? ''
      : ` Left as ${left.length === 1 ? 'it is' : 'they are'}, because something changed meanwhile: order ${left.join(', ')}.`;
  const why = gone.length === 0 ? '' : ` ${gone.join('; ')}.`;
  const text = `${formatCount(done.length, 'parcel is', 'parcels are')} decided. No customer was written to.${rest}${why}`;
  const tone = left.length > 0 ? ('needs-you' as const) : ('plain' as const);
  if (done.length === 0) return { text, tone };
  return { text, tone, undo: { action: '/parcels/packing/undo', label: 'Undo', fields: { batch } } };
}

/** Takes back what one step decided, where it still stands. */
export function undoBest(call: StaffCall): Answer {
  const batch = typeof call.body.batch === 'string' ? call.body.batch.slice(0, 120) : '';
  const by = byOf(call);
  const undone = call.once((tx) =>
    batch === ''
      ? 0
      : choicesOfBatch(tx, batch).filter((choice) =>
          takeBack(tx, orderById(tx, choice.orderId).order.number, choice.id, by),
        ).length,
  );
  return redirect('/parcels/packing', `${formatCount(undone, 'decision is', 'decisions are')} taken back.`);
}
