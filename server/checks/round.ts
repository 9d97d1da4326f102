import { Fragment, h } from 'preact';
import { partFrom, partNamed, roundPath } from '../../shared/checks/round-address.ts';
import { wellForm } from '../../shared/checks/round-form.ts';
import { worthCounting } from '../../shared/surplus/count-next-filter.ts';
import { RoundPage } from '../../views/checks/page-round.tsx';
import { RoundRow } from '../../views/checks/part-round-row.tsx';
import { lookedWords, wellWords } from '../../views/checks/say-round.ts';
import { cultureHref } from '../../views/cultures/page-list.tsx';
import { dayFault } from '../../views/cultures/say.ts';
import { readHabits } from '../counts/queries-habits.ts';
import { loadCulture } from '../cultures/queries.ts';
import { type Answer, page, part as partAnswer, redirect } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { Refusal } from '../plumbing/errors.ts';
import { readForm } from '../plumbing/forms.ts';
import { begunToShow } from '../settings/queries-first-steps.ts';
import { gainNow } from '../surplus/queries-gains.ts';
import { type AskedCount, countsLeftOver } from '../surplus/queries-round-counts.ts';
import { airOnRound } from './air.ts';
import { doneAlong } from './done-along.ts';
import { alongWithRows } from './live.ts';
import { partOf } from './places.ts';
import { startsOf } from './starts.ts';
import { tellRound } from './tell-round.ts';
import { openOf, type Round, todaysRound } from './todays-round.ts';
import { writeCheck } from './write.ts';

/** So many are looked at anew; each takes a hundredth of a second. */
const mostLeftOver = 12;

/** What a round that has not changed has left over has not changed either. */
const leftOver = new WeakMap<Round, AskedCount[]>();

/** Counts that fell away with their day, with what they would free now. */
function notCounted({ db, today }: StaffCall, round: Round) {
  const left = leftOver.get(round) ?? countsLeftOver(db, today).slice(0, mostLeftOver);
  leftOver.set(round, left);
  if (left.length === 0) return [];
  const { habits } = readHabits(db);
  return left.map((one) => {
    const gain = gainNow(db, one.cultureId, habits, today);
    return { ...one, gain: gain !== null && gain >= worthCounting ? gain : null };
  });
}

export async function showRound(call: StaffCall): Promise<Answer> {
  const starts = await startsOf(call);
  const round = todaysRound(call);
  const { all, rows, done, waiting } = round;
  const { places, parts } = partOf(round, partNamed(call.query.part));
  const onRound = new Set(rows);
  const later = all.filter(({ row }) => !onRound.has(row)).map(({ nextInDays }) => nextInDays);
  return page(
    h(RoundPage, {
      furniture: call.furniture,
      begun: call.who.role === 'owner' ? begunToShow(call.db) : null,
      today: call.today,
      done,
      total: rows.length,
      places,
      parts,
      air: airOnRound(call, places, rows),
      starts,
      kept: all.length,
      nextInDays: later.length > 0 ? Math.max(1, Math.min(...later)) : null,
      needsOwner: all.map(({ row }) => row).filter((r) => r.health === 'mites' || r.health === 'die-off'),
      waiting,
      notCounted: notCounted(call, round),
    }),
  );
}

/**
 * One tap: looked at, nothing to note; with `did` what was due there was done too. A tap that was kept on a phone names
 * its day and what was done.
 */
export function markAllWell(call: StaffCall): Answer {
  const loaded = loadCulture(call.db, call.params.code ?? '');
  const { code } = loaded.culture;
  const read = readForm(wellForm, call.body);
  if (!read.ok) throw new Refusal(422, 'Not written', Object.values(read.form.errors)[0] ?? '');
  const { onDay, what, lookedFor } = read.data;
  const did = read.data.did === 'yes';
  const by = { today: call.today, now: call.clock.now(), personId: call.who.id };
  const wrongDay = onDay && dayFault(loaded.culture, onDay, call.today, call.business.locale);
  if (wrongDay) throw new Refusal(422, 'Not written', wrongDay);
  const id = call.once((tx) => {
    const kinds = onDay && what ? what : openOf(call, code);
    const along = did ? doneAlong(tx, loaded.culture.id, kinds) : {};
    return writeCheck(tx, loaded, { note: '', onDay, lookedFor, ...along }, by);
  });
  tellRound(call.db, [code]);
  const part = partFrom(call.query.from);
  const back = roundPath(part);
  const undo = {
    action: `${cultureHref(code)}/diary/${id}/withdraw`,
    label: 'Undo',
    fields: { back, whole: 'yes' },
  };
  const text = lookedFor ? lookedWords(code, lookedFor) : wellWords([code], did);
  const notice = { text, tone: 'plain' as const, undo };
  if (!call.wantsPart) return redirect(back, notice);
  const round = todaysRound(call);
  const row = round.rows.find((r) => r.code === code);
  if (!row) return redirect(back, notice);
  const own = h(RoundRow, { furniture: call.furniture, row, part });
  // The row says what was done, and undoes it: a notice above would push it from under the thumb.
  return partAnswer(h(Fragment, null, own, ...alongWithRows(call, round, [code], part)), { heard: text });
}
