import { h } from 'preact';
import { isDay } from '../../shared/days.ts';
import { urgencyField, urgencyForm } from '../../shared/orders/form.ts';
import type { FormState } from '../../views/layout/form-state.ts';
import { formatCount, formatDay } from '../../views/layout/format.ts';
import { ProposeDayPage } from '../../views/orders/page-propose-day.tsx';
import { addressWith } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import type { FormBody, StaffCall } from '../plumbing/call.ts';
import { notFound, Refusal } from '../plumbing/errors.ts';
import { typed, withErrors } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import { byOf } from './by.ts';
import { type Draft, draftOf, stockFor } from './drafts.ts';
import { mostLinesShown, proposalOf, type Shown } from './proposal.ts';
import { workOut } from './propose.ts';
import { loadOrder } from './queries.ts';
import { draftsOn, nextDayWithDrafts } from './queries-list.ts';
import { NotReserved, type OrderWishes, type Reserved, reserveForAll, type Wish } from './reserve.ts';
import { missingGroups } from './steps.ts';
import { nothingEntered, wishesOf } from './wishes.ts';

/** More orders than this nobody packs on a day. */
const mostOrders = 1_000;

/** The drafts of a day that lack groups, those written down first in front, and how many there was no room for. */
function draftsFor(db: Db, day: string): { drafts: Draft[]; noRoomFor: number } {
  const all = draftsOn(db, day, mostOrders)
    .map((number) => draftOf(db, loadOrder(db, number)))
    .filter((draft) => draft.lines.length > 0);
  let lines = 0;
  const drafts = all.filter((draft) => {
    lines += draft.lines.length;
    return lines <= mostLinesShown;
  });
  return { drafts, noRoomFor: all.length - drafts.length };
}

function dayIn(said: string | string[] | undefined): string {
  if (typeof said !== 'string' || !isDay(said)) throw notFound('packing day');
  return said;
}

type Fields = FormBody | StaffCall['query'];

/** How urgent somebody said an order is: 1, the lowest, when nobody did. */
function urgencyOf(fields: Fields, number: number): number {
  const read = urgencyForm.safeParse(fields[urgencyField(number)]);
  return read.success ? read.data : 1;
}

function urgencies(fields: Fields, drafts: readonly Draft[]): Record<string, number> {
  return Object.fromEntries(drafts.map(({ number }) => [urgencyField(number), urgencyOf(fields, number)]));
}

const pathOf = (day: string, urgent: Record<string, number> = {}) => {
  const said = Object.entries(urgent).filter(([, urgency]) => urgency > 1);
  return addressWith('/orders/propose', { day, ...Object.fromEntries(said) });
};

type Entered = Pick<Shown, 'wishes' | 'form' | 'answered'>;

function dayPage(call: StaffCall, day: string, fields: Fields, entered: Entered) {
  const { drafts, noRoomFor } = draftsFor(call.db, day);
  const { lines, ...proposal } = proposalOf(call.db, { drafts, today: call.today, ...entered });
  const urgent = urgencies(fields, drafts);
  return h(ProposeDayPage, {
    furniture: call.furniture,
    day,
    orders: drafts.map((draft) => ({
      number: draft.number,
      customerName: draft.customerName,
      urgency: urgent[urgencyField(draft.number)] ?? 1,
      lines: draft.lines.map(({ line }) => lines.get(line.id)!),
    })),
    again: pathOf(day, urgent),
    noRoomFor,
    verdict: entered.answered?.verdict ?? null,
    ...proposal,
  });
}

export async function proposeForDay(call: StaffCall): Promise<Answer> {
  if (call.query.day === undefined)
    return redirect(pathOf(nextDayWithDrafts(call.db, call.today) ?? call.today));
  const day = dayIn(call.query.day);
  const { drafts } = draftsFor(call.db, day);
  if (drafts.length === 0) return page(dayPage(call, day, {}, { wishes: [], form: null, answered: null }));
  const priorityOf = (number: number) => urgencyOf(call.query, number);
  const again = pathOf(day, urgencies(call.query, drafts));
  const asked = { drafts, stock: stockFor(call.db, drafts), priorityOf };
  const found = await workOut(call, asked, {
    title: `Proposal for ${formatDay(day, call.business.locale, 'weekday')}`,
    again,
    back: { href: addressWith('/orders', { from: day, to: day }), label: 'Orders of this day' },
  });
  if (found.answer) return found.answer;
  return page(dayPage(call, day, call.query, { ...found, form: null }));
}

/** The groups entered, order by order; a line that no draft of the day has any more is a fault. */
function askedIn(tx: Db, day: string, wishes: readonly Wish[]): OrderWishes[] {
  const { drafts } = draftsFor(tx, day);
  const numberOf = new Map(drafts.flatMap((one) => one.lines.map(({ line }) => [line.id, one.number])));
  if (wishes.some((wish) => !numberOf.has(wish.lineId)))
    throw new NotReserved({
      '': 'An order of this page has changed meanwhile, or has all its groups by now. Propose again.',
    });
  return drafts.flatMap(({ number }) => {
    const own = wishes.filter((wish) => numberOf.get(wish.lineId) === number);
    return own.length > 0 ? [{ number, wishes: own }] : [];
  });
}

function doneWords(reserved: readonly Reserved[], lacking: number): string {
  const groups = reserved.reduce((sum, one) => sum + one.groups, 0);
  const animals = reserved.reduce((sum, one) => sum + one.animals, 0);
  const next =
    lacking === 0
      ? 'Each of them has all its groups and can be confirmed.'
      : `${formatCount(lacking, 'order')} of them still ${lacking === 1 ? 'lacks' : 'lack'} some.`;
  return `Reserved ${formatCount(groups, 'group')} (${animals} animals) for ${formatCount(reserved.length, 'order')}. ${next}`;
}

export function reserveForDay(call: StaffCall): Answer {
  const day = dayIn(call.body.day);
  const form = typed(call.body);
  const { wishes, errors } = wishesOf(call.body);
  const again = (shown: FormState) => dayPage(call, day, call.body, { wishes, form: shown, answered: null });
  const wrong = (more: Record<string, string>) => wrongForm(again(withErrors(form, more)));
  if (Object.keys(errors).length > 0) return wrong(errors);
  if (call.body.look) return page(again(form));
  if (wishes.length === 0) return wrong({ '': nothingEntered });
  try {
    const done = call.once((tx) => {
      const asked = askedIn(tx, day, wishes);
      const reserved = reserveForAll(tx, asked, null, byOf(call));
      const lacking = asked.filter(({ number }) => missingGroups(tx, loadOrder(tx, number).order.id) > 0);
      return { reserved, lacking: lacking.length };
    });
    return redirect(addressWith('/orders', { from: day, to: day }), doneWords(done.reserved, done.lacking));
  } catch (error) {
    if (error instanceof NotReserved) return wrong(error.errors);
    if (error instanceof Refusal && error.status === 409) return wrong({ '': error.message });
    throw error;
  }
}
