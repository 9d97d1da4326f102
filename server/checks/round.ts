import { Fragment, h } from 'preact';
import { nextCheck } from '../../shared/checks/due.ts';
import { RoundPage } from '../../views/checks/page-round.tsx';
import { RoundProgress } from '../../views/checks/part-round-progress.tsx';
import { RoundRow, type RoundRowData } from '../../views/checks/part-round-row.tsx';
import { cultureHref } from '../../views/cultures/page-list.tsx';
import { loadCulture } from '../cultures/queries.ts';
import { type Answer, page, part, redirect } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { checkedOn, type KeptCulture, keptCultures } from './queries.ts';
import { writeCheck } from './write.ts';

function rowOf(culture: KeptCulture, done: Map<number, number>, today: string): RoundRowData {
  const due = nextCheck(culture.lastCheckOn, culture.foundedOn, culture.everyDays, today);
  return {
    code: culture.code,
    scientificName: culture.scientificName,
    place: culture.place,
    shelf: culture.shelf,
    position: culture.position,
    reason: due.reason,
    overdueDays: due.overdueDays,
    health: culture.health,
    inQuarantine: culture.status === 'quarantine',
    doneEntry: done.get(culture.id) ?? null,
  };
}

/** What is due today or was looked at today, in walking order, out of all that is kept. */
function todaysRound(call: StaffCall) {
  const done = checkedOn(call.db, call.today);
  const all = keptCultures(call.db).map((c) => rowOf(c, done, call.today));
  const rows = all.filter((row) => row.doneEntry !== null || row.overdueDays >= 0);
  return { all, rows, done: rows.filter((row) => row.doneEntry !== null).length };
}

export function showRound(call: StaffCall): Answer {
  const { all, rows } = todaysRound(call);
  const later = all
    .filter((row) => row.overdueDays < 0 && row.doneEntry === null)
    .map((row) => -row.overdueDays);
  return page(
    h(RoundPage, {
      furniture: call.furniture,
      today: call.today,
      rows,
      kept: all.length,
      nextInDays: later.length > 0 ? Math.min(...later) : null,
      needsOwner: all.filter((r) => r.health === 'mites' || r.health === 'die-off'),
    }),
  );
}

/** One tap: looked at, nothing to note. */
export function markAllWell(call: StaffCall): Answer {
  const loaded = loadCulture(call.db, call.params.code ?? '');
  const by = { today: call.today, now: call.clock.now(), personId: call.who.id };
  const id = call.once((tx) => writeCheck(tx, loaded, { note: '' }, by));
  const { code } = loaded.culture;
  const undo = {
    action: `${cultureHref(code)}/diary/${id}/withdraw`,
    label: 'Undo',
    fields: { back: '/round' },
  };
  const notice = { text: `${code}: all well.`, tone: 'plain' as const, undo };
  if (!call.wantsPart) return redirect('/round', notice);
  const { rows, done } = todaysRound(call);
  const row = rows.find((r) => r.code === code);
  if (!row) return redirect('/round', notice);
  const progress = h(RoundProgress, { done, total: rows.length, locale: call.business.locale, oob: true });
  return part(h(Fragment, null, h(RoundRow, { furniture: call.furniture, row }), progress), notice);
}
