import { h } from 'preact';
import type { DueKind } from '../../shared/checks/care-due.ts';
import { inPart, partFrom, roundPath } from '../../shared/checks/round-address.ts';
import { putOffForm } from '../../shared/checks/round-form.ts';
import { addDays } from '../../shared/days.ts';
import { PutOffPage } from '../../views/checks/page-put-off.tsx';
import { dueWords } from '../../views/checks/say-round.ts';
import { formatDay } from '../../views/layout/format.ts';
import type { LoadedCulture } from '../cultures/queries.ts';
import { loadKeptCulture } from '../cultures/queries-kept.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { readForm } from '../plumbing/forms.ts';
import { addPutOff, endPutOff } from './queries-put-offs.ts';
import { tellRound } from './tell-round.ts';
import { todaysRound } from './todays-round.ts';

const load = (call: StaffCall) => loadKeptCulture(call.db, call.params.code ?? '', 'put off');

function putOffPage(call: StaffCall, { culture, species, place }: LoadedCulture, form: FormState) {
  const { all } = todaysRound(call);
  const open = all.find(({ row }) => row.code === culture.code)?.row.open ?? [];
  return h(PutOffPage, {
    furniture: call.furniture,
    code: culture.code,
    scientificName: species.scientificName,
    place: place?.fullName ?? null,
    part: partFrom(call.query.from),
    open,
    today: call.today,
    form,
  });
}

export function askPutOff(call: StaffCall): Answer {
  return page(
    putOffPage(call, load(call), { values: { what: call.query.what ?? null, days: 1 }, errors: {} }),
  );
}

export function savePutOff(call: StaffCall): Answer {
  const loaded = load(call);
  const read = readForm(putOffForm, call.body);
  if (!read.ok) return wrongForm(putOffPage(call, loaded, read.form));
  const { what, days, reason } = read.data;
  const untilOn = addDays(call.today, days);
  const { id: cultureId, code } = loaded.culture;
  const made = { madeBy: call.who.id, madeAt: call.clock.now() };
  const id = call.once((tx) => addPutOff(tx, { cultureId, what, untilOn, reason, ...made }));
  tellRound(call.db, [code]);
  const part = partFrom(call.query.from);
  return redirect(roundPath(part), {
    text: `${code}: ${dueWords[what as DueKind]} waits until ${formatDay(untilOn, call.business.locale)}.`,
    tone: 'plain',
    undo: { action: `/round/put-offs/${id}/undo${inPart(part)}`, label: 'Undo' },
  });
}

/** It does not wait any longer. */
export function undoPutOff(call: StaffCall): Answer {
  const id = numberIn(call, 'id', 'entry');
  const by = { undoneBy: call.who.id, undoneAt: call.clock.now() };
  const ended = call.once((tx) => endPutOff(tx, id, by));
  if (ended) tellRound(call.db, [ended]);
  const back = roundPath(partFrom(call.query.from));
  return redirect(back, ended ? 'It is on the round again.' : 'It was taken back already.');
}
