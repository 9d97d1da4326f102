import { h } from 'preact';
import { z } from 'zod';
import { roundBack } from '../../shared/checks/round-address.ts';
import { day } from '../../shared/days.ts';
import { EntryPage } from '../../views/cultures/page-entry.tsx';
import { cultureHref } from '../../views/cultures/page-list.tsx';
import { dayFault } from '../../views/cultures/say.ts';
import { formatMoment } from '../../views/layout/format.ts';
import { refreshEstimate } from '../counts/queries-estimate.ts';
import { photoOf } from '../counts/queries-photos.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { notFound, Refusal } from '../plumbing/errors.ts';
import { readForm, typed, withErrors } from '../plumbing/forms.ts';
import { tellNews } from '../plumbing/news.ts';
import { whyItStays } from '../splits/queries-take-back.ts';
import { moveContactsOf, withdrawContactsOf } from '../traces/queries-contacts.ts';
import { numberColumns, numberOf } from './number-of-entry.ts';
import { type Culture, findCulture, loadCulture } from './queries.ts';
import {
  correctEntry,
  type DiaryLine,
  type Entry,
  type NewEntry,
  positionOf,
  readEntry,
  withdrawEntry,
} from './queries-diary.ts';
import { partnerOf, writtenWith } from './queries-pairs.ts';

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
  const entry = readEntry(call.db, culture.id, numberIn(call, 'id', 'entry'));
  if (!entry) throw notFound('entry');
  return { culture, entry };
}

/** The day must suit both diaries where the entry stands in two. */
function dayErrors(
  call: StaffCall,
  culture: Culture,
  partner: Culture | undefined,
  onDay: string,
): Record<string, string> {
  const wrong = [culture, ...(partner ? [partner] : [])]
    .map((c) => dayFault(c, onDay, call.today, call.business.locale))
    .find((fault) => fault !== null);
  return wrong ? { onDay: wrong } : {};
}

function lockedBecause(entry: DiaryLine, culture: Culture): string | null {
  if (culture.takenBackAt !== null)
    return 'The split that founded this culture was taken back: it never was.';
  if (entry.replacedBy !== null || entry.withdrawn)
    return 'This entry has been corrected or taken out already.';
  if (entry.orderId !== null)
    return 'This harvest was written by packing an order. Unpack the order to take it back.';
  if (entry.kind === 'split')
    return 'A split belongs to two cultures: it is not corrected, it is taken back as a whole.';
  return null;
}

function entryPage(call: StaffCall, culture: Culture, entry: DiaryLine, form: FormState) {
  return h(EntryPage, {
    furniture: call.furniture,
    code: culture.code,
    entry,
    form,
    numberLabel: numberOf(entry, call.business.units)?.label ?? null,
    alsoIn: partnerOf(call.db, entry) ? entry.otherCode : null,
    photo: photoOf(call.db, positionOf(entry)),
    locked: lockedBecause(entry, culture),
    split:
      entry.kind === 'split' && entry.replacedBy === null && !entry.withdrawn
        ? { stays: whyItStays(call.db, entry) }
        : null,
    today: call.today,
  });
}

const valuesOf = (call: StaffCall, entry: DiaryLine) => ({
  onDay: entry.onDay,
  number: numberOf(entry, call.business.units)?.value ?? null,
  food: entry.food,
  note: entry.note,
});

export function showEntry(call: StaffCall): Answer {
  const { culture, entry } = load(call);
  return page(entryPage(call, culture, entry, { values: valuesOf(call, entry), errors: {} }));
}

/** What stands in place of an entry that was corrected; undefined for one that was not, or was taken out. */
function standsInPlaceOf(call: StaffCall, culture: Culture, entry: DiaryLine): DiaryLine | undefined {
  let last = entry;
  while (last.replacedBy !== null) {
    const next = readEntry(call.db, culture.id, last.replacedBy);
    if (!next) break;
    last = next;
  }
  return last.id === entry.id || last.withdrawn ? undefined : last;
}

/**
 * Somebody else corrected the entry since its page was opened: what they wrote beside what was typed, in a form that
 * corrects theirs. An entry never changes, so its own number is the mark of what the form was filled from.
 */
function overtakenPage(call: StaffCall, culture: Culture, standing: DiaryLine): Answer {
  const { timeZone, locale } = call.business;
  const meanwhile = {
    savedBy: standing.by,
    savedWhen: `on ${formatMoment(standing.madeAt, timeZone, locale)}`,
    stored: valuesOf(call, standing),
  };
  return page(entryPage(call, culture, standing, { ...typed(call.body), meanwhile }), 409);
}

export function correctDiary(call: StaffCall): Answer {
  if (call.outcome()) return redirect(`${cultureHref(call.params.code ?? '')}#diary`);
  const { culture, entry } = load(call);
  const standing = standsInPlaceOf(call, culture, entry);
  if (standing && culture.takenBackAt === null) return overtakenPage(call, culture, standing);
  const locked = lockedBecause(entry, culture);
  if (locked) {
    const form = { ...typed(call.body), errors: { '': 'It was not saved.' } };
    return page(entryPage(call, culture, entry, form), 409);
  }
  const read = readForm(mendForm, call.body);
  if (!read.ok) return wrongForm(entryPage(call, culture, entry, read.form));
  const { onDay, number, food, note } = read.data;
  const partner = partnerOf(call.db, entry);
  const other = partner && entry.otherCode ? findCulture(call.db, entry.otherCode) : undefined;
  const errors = dayErrors(call, culture, other, onDay);
  const wantsNumber = numberOf(entry, call.business.units) !== null;
  const columns = wantsNumber
    ? number === undefined
      ? 'Fill in a number.'
      : numberColumns(entry, number, call.business.units)
    : {};
  if (typeof columns === 'string') errors.number = columns;
  if (Object.keys(errors).length > 0 || typeof columns === 'string')
    return wrongForm(entryPage(call, culture, entry, withErrors(read.form, errors)));
  const now = call.clock.now();
  const by = { via: 'page', madeBy: call.who.id, madeAt: now } as const;
  call.once((tx) => {
    const words = { note, food: entry.kind === 'feed' ? (food ?? null) : entry.food };
    correctEntry(tx, entry.id, { ...keptOf(entry), ...columns, ...words, ...by, onDay });
    moveContactsOf(tx, positionOf(entry), onDay, by);
    if (partner) correctEntry(tx, partner.id, { ...keptOf(partner), ...columns, ...by, onDay });
    for (const id of [culture.id, ...(partner ? [partner.cultureId] : [])])
      refreshEstimate(tx, id, call.today, now);
    return true;
  });
  return corrected(culture.code);
}

const corrected = (code: string) =>
  redirect(`${cultureHref(code)}#diary`, 'Corrected. The estimate follows.');

/** What a correction keeps of the entry it replaces. */
function keptOf(entry: Entry): NewEntry {
  const {
    id: _id,
    rootId: _root,
    replacesId: _replaces,
    withdrawn: _out,
    importId: _import,
    saidBy: _said,
    ...kept
  } = entry;
  return kept;
}

export function withdrawFromDiary(call: StaffCall): Answer {
  const code = call.params.code ?? '';
  const back = roundBack.parse(call.body.back) ?? `${cultureHref(code)}#diary`;
  // A second tap on Undo is answered like the first.
  if (call.outcome()) return redirect(back);
  const { culture, entry } = load(call);
  const locked = lockedBecause(entry, culture);
  if (locked) throw new Refusal(409, 'Cannot be taken out here', locked);
  const now = call.clock.now();
  const partner = partnerOf(call.db, entry);
  call.once((tx) => {
    const by = { madeBy: call.who.id, madeAt: now };
    const own = call.body.whole === 'yes' ? writtenWith(tx, entry) : [entry];
    for (const one of [...own, ...(partner ? [partner] : [])]) {
      withdrawEntry(tx, one.id, by);
      withdrawContactsOf(tx, positionOf(one), by);
      refreshEstimate(tx, one.cultureId, call.today, now);
    }
    return true;
  });
  tellNews(call.db, { topic: 'round', about: [culture.code] });
  const too = partner && entry.otherCode ? ` In ${entry.otherCode} too.` : '';
  return redirect(back, `${culture.code}: taken out. It stays readable in the diary.${too}`);
}
