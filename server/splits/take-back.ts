import { cultureHref } from '../../views/cultures/page-list.tsx';
import { refreshEstimate } from '../counts/queries-estimate.ts';
import { loadCulture } from '../cultures/queries.ts';
import {
  appendEntry,
  type DiaryLine,
  positionOf,
  readEntry,
  withdrawEntry,
} from '../cultures/queries-diary.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, redirect } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { notFound, Refusal } from '../plumbing/errors.ts';
import { tellNews } from '../plumbing/news.ts';
import type { Db } from '../plumbing/open-database.ts';
import { withdrawContactsOf } from '../traces/queries-contacts.ts';
import { markTakenBack, whyItStays } from './queries-take-back.ts';

/** Nothing moved after all: the parent has its animals again, and the culture that was founded never was. */
function takeBack(tx: Db, entry: DiaryLine, childId: number, call: StaffCall) {
  const now = call.clock.now();
  const by = { madeBy: call.who.id, madeAt: now };
  withdrawEntry(tx, entry.id, by);
  withdrawContactsOf(tx, positionOf(entry), by);
  const words = 'The split that founded it was taken back.';
  appendEntry(tx, {
    cultureId: childId,
    onDay: entry.onDay,
    kind: 'retirement',
    note: words,
    via: 'page',
    ...by,
  });
  markTakenBack(tx, childId, now);
  refreshEstimate(tx, entry.cultureId, call.today, now);
  refreshEstimate(tx, childId, call.today, now);
  note(tx, {
    at: now,
    personId: call.who.id,
    action: 'took back a split',
    subject: `culture ${entry.otherCode}`,
    before: { onDay: entry.onDay, animals: entry.animals },
  });
}

export function takeSplitBack(call: StaffCall): Answer {
  const { culture } = loadCulture(call.db, call.params.code ?? '');
  const back = cultureHref(culture.code);
  // A second tap is answered like the first.
  if (call.outcome()) return redirect(back);
  const entry = readEntry(call.db, culture.id, numberIn(call, 'id', 'entry'));
  if (!entry) throw notFound('entry');
  call.once((tx) => {
    const stays = whyItStays(tx, entry);
    if (stays || entry.otherCultureId === null) throw new Refusal(409, 'Cannot be taken back', stays ?? '');
    takeBack(tx, entry, entry.otherCultureId, call);
    return true;
  });
  tellNews(call.db, { topic: 'round', about: [culture.code] });
  return redirect(
    back,
    `The split is taken back: its animals are in ${culture.code} again, and ${entry.otherCode} never was. Throw its label away.`,
  );
}
