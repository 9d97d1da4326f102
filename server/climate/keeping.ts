import { h } from 'preact';
import { GRACE_MS, keepingForm } from '../../shared/climate/keeping.ts';
import { KeepingPage } from '../../views/climate/page-keeping.tsx';
import { formatCount, formatMoment } from '../../views/layout/format.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { filledWith, isOvertaken, type Outcome, overtaken, saved, tooLate } from '../plumbing/edits.ts';
import { readForm } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import { keptFrom, readingsBefore, readKeeping, saveKeeping, thinnedSoFar } from './queries-thinning.ts';

function keepingPage(call: StaffCall, form: FormState) {
  const { db, today, clock, business, furniture } = call;
  const { days, changedAt } = readKeeping(db);
  const from = keptFrom(today, days);
  const waitsUntil = changedAt === null ? null : changedAt + GRACE_MS;
  return h(KeepingPage, {
    furniture,
    timeZone: business.timeZone,
    days,
    keptFrom: from,
    older: readingsBefore(db, from),
    waitsUntil: waitsUntil !== null && waitsUntil > clock.now() ? waitsUntil : null,
    gone: thinnedSoFar(db),
    form,
  });
}

const keptNow = (db: Db) => ({ days: readKeeping(db).days });

export const askKeeping = (call: StaffCall): Answer => page(keepingPage(call, filledWith(keptNow(call.db))));

export function changeKeeping(call: StaffCall): Answer {
  const read = readForm(keepingForm, call.body);
  if (!read.ok) return wrongForm(keepingPage(call, read.form));
  const { days } = read.data;
  const at = call.clock.now();
  const outcome = call.once((tx): Outcome => {
    const before = keptNow(tx);
    if (isOvertaken(call, before)) return overtaken;
    saveKeeping(tx, days, at);
    note(tx, { at, personId: call.who.id, action: 'changed', subject: 'readings', before, after: { days } });
    return saved;
  });
  if (outcome.overtaken)
    return page(keepingPage(call, tooLate(call, keptNow(call.db), { subject: 'readings' })), 409);
  const older = readingsBefore(call.db, keptFrom(call.today, days));
  const { timeZone, locale } = call.business;
  const words =
    older === 0
      ? 'Saved. Nothing is older than that.'
      : `Saved. ${formatCount(older, 'reading is', 'readings are', locale)} older than that and will be thinned from ${formatMoment(at + GRACE_MS, timeZone, locale)} on.`;
  return redirect('/settings/readings', words);
}
