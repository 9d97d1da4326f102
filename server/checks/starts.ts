import { h } from 'preact';
import { roundPath } from '../../shared/checks/round-address.ts';
import { startPutOffForm } from '../../shared/checks/round-form.ts';
import { addDays } from '../../shared/days.ts';
import { PutOffStartPage } from '../../views/checks/page-put-off-start.tsx';
import type { StartData } from '../../views/checks/part-starts.tsx';
import { startWords } from '../../views/checks/say-round.ts';
import { formatDay } from '../../views/layout/format.ts';
import { startsThisWeek } from '../feeders/queries-plan.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { notFound } from '../plumbing/errors.ts';
import { readForm } from '../plumbing/forms.ts';
import { addStartPutOff, endStartPutOff, startsWaiting } from './queries-start-put-offs.ts';

/** Work at the bench stands before the walk, on the first part of a long round. */
const benchPath = roundPath(1);

/** Which feeder cultures are to be started this week, with what was put off. */
export async function startsOf({ db, today }: StaffCall): Promise<StartData[]> {
  const waiting = startsWaiting(db, today);
  return (await startsThisWeek(db, today)).map(({ leadDays, ...start }) => ({
    ...start,
    neededOn: addDays(today, leadDays),
    waits: waiting.get(start.feederId) ?? null,
  }));
}

async function startIn(call: StaffCall): Promise<StartData> {
  const feederId = numberIn(call, 'id', 'feeder');
  const start = (await startsOf(call)).find((one) => one.feederId === feederId && one.toStart > 0);
  if (!start) throw notFound('start of this week');
  return start;
}

const putOffPage = ({ furniture }: StaffCall, start: StartData, form: FormState) =>
  h(PutOffStartPage, { furniture, start, form });

export async function askStartPutOff(call: StaffCall): Promise<Answer> {
  return page(putOffPage(call, await startIn(call), { values: { days: 1 }, errors: {} }));
}

export async function saveStartPutOff(call: StaffCall): Promise<Answer> {
  const start = await startIn(call);
  const read = readForm(startPutOffForm, call.body);
  if (!read.ok) return wrongForm(putOffPage(call, start, read.form));
  const { days, reason } = read.data;
  const untilOn = addDays(call.today, days);
  const made = { madeBy: call.who.id, madeAt: call.clock.now() };
  const { feederId } = start;
  const id = call.once((tx) => addStartPutOff(tx, { feederId, untilOn, reason, ...made }));
  return redirect(benchPath, {
    text: `${startWords(start)}: waits until ${formatDay(untilOn, call.business.locale)}.`,
    tone: 'plain',
    undo: { action: `/round/start-put-offs/${id}/undo`, label: 'Undo' },
  });
}

export function undoStartPutOff(call: StaffCall): Answer {
  const id = numberIn(call, 'id', 'entry');
  const by = { undoneBy: call.who.id, undoneAt: call.clock.now() };
  const ended = call.once((tx) => endStartPutOff(tx, id, by));
  return redirect(benchPath, ended ? 'It is on the round again.' : 'It was taken back already.');
}
