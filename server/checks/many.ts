import type { z } from 'zod';
import { inPart, partFrom, roundPath } from '../../shared/checks/round-address.ts';
import { manyForm, undoManyForm } from '../../shared/checks/round-form.ts';
import { wellWords } from '../../views/checks/say-round.ts';
import { dayFault } from '../../views/cultures/say.ts';
import { formatCount } from '../../views/layout/format.ts';
import { refreshAfterLook } from '../counts/queries-look.ts';
import { loadCulture } from '../cultures/queries.ts';
import { standingEntry, withdrawEntry } from '../cultures/queries-diary.ts';
import { writtenWith } from '../cultures/queries-pairs.ts';
import { type Answer, redirect } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { Refusal } from '../plumbing/errors.ts';
import { readForm } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import { withdrawContactsOf } from '../traces/queries-contacts.ts';
import { doneAlong } from './done-along.ts';
import { codesOf } from './queries.ts';
import { tellRound } from './tell-round.ts';
import { todaysRound } from './todays-round.ts';
import { writeCheck } from './write.ts';

/** Of the chosen codes those that are on the round and have something to do, with what that is. */
function stillOpen(call: StaffCall, codes: readonly string[]) {
  const chosen = new Set(codes);
  const { rows } = todaysRound(call);
  return rows.filter(({ code, open, doneEntry }) => {
    return chosen.has(code) && (doneEntry === null || open.length > 0);
  });
}

type Written = { ids: number[]; codes: string[] };

function writeMany(tx: Db, call: StaffCall, codes: readonly string[], did: boolean): Written {
  const by = { today: call.today, now: call.clock.now(), personId: call.who.id };
  const written: Written = { ids: [], codes: [] };
  for (const { code, open, doneEntry } of stillOpen(call, codes)) {
    const loaded = loadCulture(tx, code);
    const kinds = open.map(({ what }) => what);
    const along = did ? doneAlong(tx, loaded.culture.id, kinds) : {};
    // A second look with nothing done at it would say nothing new.
    if (doneEntry !== null && Object.keys(along).length === 0) continue;
    written.ids.push(writeCheck(tx, loaded, { note: '', ...along }, by));
    written.codes.push(code);
  }
  return written;
}

/**
 * What a phone has kept is written as it was done, whoever has looked at the same cultures meanwhile; and all of it or
 * nothing, so that no part of it is lost unseen.
 */
function writeKept(tx: Db, call: StaffCall, form: z.infer<typeof manyForm> & { onDay: string }): Written {
  const by = { today: call.today, now: call.clock.now(), personId: call.who.id };
  const written: Written = { ids: [], codes: [] };
  for (const code of new Set(form.codes)) {
    const loaded = loadCulture(tx, code);
    const wrongDay = dayFault(loaded.culture, form.onDay, call.today, call.business.locale);
    if (wrongDay) throw new Refusal(422, 'Not written', wrongDay);
    const kinds = form.along?.find((one) => one.code === code)?.kinds ?? [];
    const along = form.did ? doneAlong(tx, loaded.culture.id, kinds) : {};
    written.ids.push(writeCheck(tx, loaded, { note: '', onDay: form.onDay, ...along }, by));
    written.codes.push(code);
  }
  return written;
}

/** Several cultures at once: all of them looked at, nothing to note. */
export function markManyWell(call: StaffCall): Answer {
  const read = readForm(manyForm, call.body);
  const from = partFrom(call.query.from);
  const back = roundPath(from);
  if (!read.ok) {
    const why = Object.values(read.form.errors)[0] ?? 'Tick the cultures first.';
    if (call.body.onDay) throw new Refusal(422, 'Not written', why);
    return redirect(back, { text: why, tone: 'needs-you' });
  }
  const did = read.data.did === 'yes';
  const { onDay } = read.data;
  const { ids, codes } = call.once((tx) =>
    onDay ? writeKept(tx, call, { ...read.data, onDay }) : writeMany(tx, call, read.data.codes, did),
  );
  if (ids.length === 0) return redirect(back, 'Nothing to write down: somebody has looked at these already.');
  tellRound(call.db, codes);
  return redirect(back, {
    text: wellWords(codes, did, call.business.locale),
    tone: 'plain',
    undo: {
      action: `/round/undo${inPart(from)}`,
      label: 'Undo',
      fields: { ids: ids.join(',') },
    },
  });
}

/** Takes back what one tap has written of several cultures, with what was done along. */
export function undoMany(call: StaffCall): Answer {
  const read = undoManyForm.safeParse(call.body);
  if (!read.success) throw new Refusal(400, 'Nothing to take back', 'Reload the page and try again.');
  const by = { madeBy: call.who.id, madeAt: call.clock.now() };
  const codes = call.once((tx) => {
    const cultureIds = new Set<number>();
    for (const id of read.data.ids) {
      const entry = standingEntry(tx, id);
      if (entry?.kind !== 'check' || entry.onDay !== call.today) continue;
      for (const one of writtenWith(tx, entry)) {
        withdrawEntry(tx, one.id, by);
        withdrawContactsOf(tx, one.rootId ?? one.id, by);
      }
      cultureIds.add(entry.cultureId);
    }
    for (const id of cultureIds) refreshAfterLook(tx, id, call.today, by.madeAt);
    return codesOf(tx, [...cultureIds]);
  });
  tellRound(call.db, codes);
  return redirect(
    roundPath(partFrom(call.query.from)),
    codes.length === 0
      ? 'That was taken back already.'
      : `${formatCount(codes.length, 'look')} taken back. It stays readable in the diaries.`,
  );
}
