import { h } from 'preact';
import { z } from 'zod';
import { countInput } from '../../shared/counts/form.ts';
import { day } from '../../shared/days.ts';
import { EntryPage } from '../../views/cultures/page-entry.tsx';
import { cultureHref } from '../../views/cultures/page-list.tsx';
import { refreshEstimate } from '../counts/queries-estimate.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { notFound, Refusal } from '../plumbing/errors.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import { loadCulture } from './queries.ts';
import { correctEntry, type DiaryLine, type NewEntry, readEntry, withdrawEntry } from './queries-diary.ts';

const mendForm = z.object({
  onDay: day,
  number: z.coerce
    .number({ error: 'A number.' })
    .min(0, 'Not below zero.')
    .max(10_000_000, 'Too large.')
    .optional(),
  food: z.string().trim().max(80).optional(),
  note: z.string().trim().max(4000).default(''),
});

function load(call: StaffCall) {
  const { culture } = loadCulture(call.db, call.params.code ?? '');
  const entry = readEntry(call.db, culture.id, Number(call.params.id));
  if (!entry) throw notFound('entry');
  return { culture, entry };
}

/** The one number of an entry that can be mended in place, and what it is called. */
function numberOf(entry: DiaryLine): { label: string; value: number | null } | null {
  if (entry.kind === 'water') return { label: 'Water, ml', value: entry.waterMl };
  if (entry.kind === 'harvest' || entry.kind === 'addition')
    return { label: 'Animals', value: entry.animals };
  if (entry.kind === 'die-off')
    return { label: 'Percent lost', value: Math.round((1 - (entry.survivalMedian ?? 1)) * 100) };
  if (entry.kind !== 'count' || !entry.countInput) return null;
  const count = countInput.parse(JSON.parse(entry.countInput));
  return 'counted' in count ? { label: 'Counted', value: count.counted } : null;
}

function lockedBecause(entry: DiaryLine): string | null {
  if (entry.replacedBy !== null || entry.withdrawn)
    return 'This entry has been corrected or taken out already.';
  if (entry.orderId !== null)
    return 'This harvest was written by packing an order. Unpack the order to take it back.';
  if (entry.kind === 'split')
    return 'A split belongs to two cultures. Count both again to set their numbers right.';
  return null;
}

function entryPage(call: StaffCall, code: string, entry: DiaryLine, form: FormState) {
  return h(EntryPage, {
    furniture: call.furniture,
    code,
    entry,
    form,
    numberLabel: numberOf(entry)?.label ?? null,
    locked: lockedBecause(entry),
    today: call.today,
  });
}

export function showEntry(call: StaffCall): Answer {
  const { culture, entry } = load(call);
  const values = {
    onDay: entry.onDay,
    number: numberOf(entry)?.value ?? null,
    food: entry.food,
    note: entry.note,
  };
  return page(entryPage(call, culture.code, entry, { values, errors: {} }));
}

/** The columns that change with the number, for the entry's kind. */
function numberColumns(entry: DiaryLine, number: number): Partial<NewEntry> | string {
  if (entry.kind === 'water') return number > 0 ? { waterMl: number } : 'More than zero.';
  if (entry.kind === 'die-off')
    return number > 0 && number < 100 ? { survivalMedian: 1 - number / 100 } : 'Between 1 and 99.';
  if (!Number.isInteger(number)) return 'A whole number.';
  if (entry.kind === 'count') {
    const before = JSON.parse(entry.countInput!) as object;
    return { countInput: JSON.stringify(countInput.parse({ ...before, counted: number })), wording: null };
  }
  return number > 0 ? { animals: number, adults: null, juveniles: null } : 'At least one.';
}

export function correctDiary(call: StaffCall): Answer {
  const { culture, entry } = load(call);
  const locked = lockedBecause(entry);
  if (locked) throw new Refusal(409, 'Cannot be corrected here', locked);
  const read = readForm(mendForm, call.body);
  if (!read.ok) return wrongForm(entryPage(call, culture.code, entry, read.form));
  const errors: Record<string, string> = {};
  const { onDay, number, food, note } = read.data;
  if (onDay > call.today) errors.onDay = 'That day is still to come.';
  if (onDay < culture.foundedOn) errors.onDay = `The culture was founded only on ${culture.foundedOn}.`;
  const wantsNumber = numberOf(entry) !== null;
  const columns = wantsNumber
    ? number === undefined
      ? 'Fill in a number.'
      : numberColumns(entry, number)
    : {};
  if (typeof columns === 'string') errors.number = columns;
  if (Object.keys(errors).length > 0 || typeof columns === 'string')
    return wrongForm(entryPage(call, culture.code, entry, withErrors(read.form, errors)));
  const {
    id,
    rootId: _r,
    replacesId: _p,
    withdrawn: _w,
    by: _b,
    replacedBy: _rb,
    importId: _i,
    ...before
  } = entry;
  const now = call.clock.now();
  call.once((tx) => {
    correctEntry(tx, id, {
      ...before,
      ...columns,
      onDay,
      note,
      food: entry.kind === 'feed' ? (food ?? null) : entry.food,
      via: 'page',
      madeBy: call.who.id,
      madeAt: now,
    });
    refreshEstimate(tx, culture.id, call.today, now);
  });
  return redirect(`${cultureHref(culture.code)}#diary`, 'Corrected. The estimate follows.');
}

export function withdrawFromDiary(call: StaffCall): Answer {
  const { culture, entry } = load(call);
  const locked = lockedBecause(entry);
  if (locked) throw new Refusal(409, 'Cannot be taken out here', locked);
  const now = call.clock.now();
  call.once((tx) => {
    withdrawEntry(tx, entry.id, { madeBy: call.who.id, madeAt: now });
    refreshEstimate(tx, culture.id, call.today, now);
  });
  const back = call.body.back === '/round' ? '/round' : `${cultureHref(culture.code)}#diary`;
  return redirect(back, `${culture.code}: taken out. It stays readable in the diary.`);
}
