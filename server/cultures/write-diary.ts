import { h } from 'preact';
import {
  type DiaryForm,
  diaryForms,
  usesTools,
  type WrittenKind,
  writtenKind,
} from '../../shared/cultures/diary-form.ts';
import type { Objection } from '../../shared/cultures/objections.ts';
import { addDays } from '../../shared/days.ts';
import { effectiveSize } from '../../shared/lines/effective-size.ts';
import { animalsForEffective, effectiveFloor, isClonal } from '../../shared/lines/page-start.ts';
import { shownVolume, volumeUnitsOf } from '../../shared/settings/typed-volume.ts';
import { cultureHref } from '../../views/cultures/page-list.tsx';
import { WritePage } from '../../views/cultures/page-write.tsx';
import { dayFault } from '../../views/cultures/say.ts';
import { readEstimate, refreshEstimate } from '../counts/queries-estimate.ts';
import { apartRules } from '../lines/queries-apart.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { attempt } from '../plumbing/attempt.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import { type Contacts, contactChoices, readContacts, writeSharedTool } from '../traces/queries-typed.ts';
import { entriesOf, harvestEntry } from './diary-entries.ts';
import { type Culture, choices, type LoadedCulture } from './queries.ts';
import { appendEntry, type NewEntry } from './queries-diary.ts';
import { loadKeptCulture } from './queries-kept.ts';
import { holdAgainstDiary, type Moving, mixInto, takeOut, type Why } from './queries-moving.ts';
import { foodsSince, lastGiven, ordersPromised, otherCultures, wasEverMoved } from './queries-write.ts';
import { noticeOf } from './written-notice.ts';

const tick = 'Write it down all the same';
/** Food that was given this lately is suggested. */
const lately = 120;
/** Kinds that change nothing of what is known of a culture. */
const leavesKnown = new Set<WrittenKind>(['feed', 'water', 'fruit-in', 'fruit-out', 'move', 'note']);

type Shown = { kind: WrittenKind | null; form: FormState; objections?: Objection[] };

function writePage(call: StaffCall, loaded: LoadedCulture, { kind, form, objections = [] }: Shown) {
  const { db, today, business } = call;
  const { culture, species, place } = loaded;
  return h(WritePage, {
    furniture: call.furniture,
    code: culture.code,
    scientificName: species.scientificName,
    place: place?.fullName ?? null,
    inQuarantine: culture.status === 'quarantine',
    kind,
    offered: {
      foods: kind === 'feed' ? foodsSince(db, species.id, addDays(today, -lately)) : [],
      volumeUnits: volumeUnitsOf(business.units),
      places: kind === 'move' ? choices(db).places.filter((p) => p.id !== culture.placeId) : [],
      ...(kind === 'addition' ? sourcesOf(db, culture) : { others: [], apart: [] }),
      floor: kind === 'harvest' ? floorOf(db, loaded) : null,
      contacts: kind !== null && usesTools(kind) ? contactChoices(call, culture) : null,
    },
    form,
    today,
    objections,
  });
}

/** How large the effective size is now, and from how many animals down it is small: said before some are taken out. */
function floorOf(db: Db, { culture, species }: LoadedCulture) {
  const mating = { femaleShare: species.femaleShare, neRatio: species.effectiveRatio };
  const median = readEstimate(db, culture.id)?.median ?? null;
  if (median === null || isClonal(mating)) return null;
  return {
    now: effectiveSize(median, mating),
    effective: effectiveFloor,
    animals: animalsForEffective(effectiveFloor, mating),
  };
}

/** Where animals may come from, and which cultures are left out because they are never mixed with this one. */
function sourcesOf(db: Db, culture: Culture) {
  const why = apartRules(db, culture.speciesId);
  const all = otherCultures(db, culture);
  const isApart = (other: Culture) => why(other.lineId, culture.lineId) !== null;
  return {
    others: all.filter((other) => !isApart(other)),
    apart: all.filter(isApart).map(({ code }) => code),
  };
}

const load = (call: StaffCall) => loadKeptCulture(call.db, call.params.code ?? '', 'written down');

/** What was given last time stands in the fields: it is most often given again. */
function defaults(call: StaffCall, culture: Culture, kind: WrittenKind | null): FormState['values'] {
  const values = { onDay: call.today };
  if (kind !== 'feed' && kind !== 'water') return values;
  const { food, waterMl } = lastGiven(call.db, culture.id);
  const [unit] = volumeUnitsOf(call.business.units);
  const amount = waterMl === null || !unit ? null : shownVolume(waterMl, unit.value);
  return { ...values, food, amount };
}

export function askWrite(call: StaffCall): Answer {
  const loaded = load(call);
  const kind = writtenKind.parse(call.query.kind ?? null);
  const values = defaults(call, loaded.culture, kind);
  return page(writePage(call, loaded, { kind, form: { values, errors: {} } }));
}

/** What the stored stock has to say against the form. */
function faults(call: StaffCall, { culture }: LoadedCulture, form: DiaryForm): Record<string, string> {
  const { db, today, business } = call;
  const onDay = form.onDay ?? today;
  const early = dayFault(culture, onDay, today, business.locale);
  if (early) return { onDay: early };
  if (form.kind === 'move' && !choices(db).places.some((p) => p.id === form.placeId))
    return { placeId: 'Choose a place of the list.' };
  if (form.kind === 'addition' && form.fromId !== undefined) {
    const from = otherCultures(db, culture).find((c) => c.id === form.fromId);
    const wrong = from ? dayFault(from, onDay, today, business.locale) : 'Choose a culture of the list.';
    return wrong ? { fromId: wrong } : {};
  }
  if (form.kind === 'quarantine' && culture.status === 'quarantine')
    return { '': `${culture.code} is in quarantine already.` };
  if (form.kind === 'release' && culture.status !== 'quarantine')
    return { '': `${culture.code} is not in quarantine.` };
  const orders = form.kind === 'retirement' ? ordersPromised(db, culture.id) : [];
  if (orders.length === 0) return {};
  const which = `${orders.length === 1 ? 'order' : 'orders'} ${orders.join(', ')}`;
  return { '': `Animals of ${culture.code} are promised to ${which}. Choose other cultures there first.` };
}

type Written = { id: number; entries: number };

const movingOf = (call: StaffCall, stop: (why: Why) => never): Moving => ({
  today: call.today,
  now: call.clock.now(),
  isOwner: call.who.role === 'owner',
  tick,
  stop,
});

type Work = { form: DiaryForm; contacts: Contacts };

function write(
  tx: Db,
  call: StaffCall,
  { culture }: LoadedCulture,
  { form, contacts }: Work,
  stop: (why: Why) => never,
): Written {
  const now = call.clock.now();
  const moving = movingOf(call, stop);
  const base = { onDay: form.onDay ?? call.today, via: 'page', madeBy: call.who.id, madeAt: now } as const;
  const along = (id: number) => writeSharedTool(tx, contacts, { ...base, id, cultureId: culture.id });
  if (form.kind === 'harvest') {
    const id = takeOut(tx, culture, harvestEntry(form, culture, base), form, moving);
    along(id);
    return { id, entries: 1 };
  }
  if (form.kind === 'addition' && form.fromId !== undefined) {
    const from = otherCultures(tx, culture).find((c) => c.id === form.fromId);
    if (!from) return stop({ objections: [], errors: { fromId: 'Choose a culture of the list.' } });
    const id = mixInto(tx, { from, into: culture, form, base }, moving);
    along(id);
    return { id, entries: 1 };
  }
  const before = readEstimate(tx, culture.id)?.fault ?? null;
  const about = { culture, everMoved: wasEverMoved(tx, culture.id), feeder: contacts.feeder };
  const ids = entriesOf(form, about, base).map((entry: NewEntry) => appendEntry(tx, entry));
  along(ids[0]!);
  if (!leavesKnown.has(form.kind)) refreshEstimate(tx, culture.id, call.today, now);
  if (form.kind === 'addition' || form.kind === 'die-off')
    holdAgainstDiary(tx, { culture, onDay: base.onDay, before }, form, moving);
  // A move may come with where the culture stood before, which stays when the move is undone.
  return { id: form.kind === 'move' ? ids.at(-1)! : ids[0]!, entries: ids.length };
}

export function saveWritten(call: StaffCall): Answer {
  // Sent twice, the second is answered like the first: what it did may have made the form impossible by now.
  if (call.outcome()) return redirect(cultureHref(call.params.code ?? ''));
  const loaded = load(call);
  const kind = writtenKind.parse(call.body.kind ?? null);
  const again = (form: FormState, objections?: Objection[]) =>
    wrongForm(writePage(call, loaded, { kind, form, objections }));
  if (kind === null) return again({ values: {}, errors: { '': 'Choose what to write down.' } });
  const read = readForm(diaryForms[kind], call.body);
  if (!read.ok) return again(read.form);
  // The schema was chosen by the kind, which the compiler cannot see.
  const form = { kind, ...read.data } as DiaryForm;
  const { today, business } = call;
  const onDay = form.onDay ?? today;
  const about = { culture: loaded.culture, onDay, today, locale: business.locale };
  const { contacts, errors: strangers } = readContacts(
    call.db,
    'tools' in form || 'feederFrom' in form ? form : {},
    about,
  );
  const errors = { ...strangers, ...faults(call, loaded, form) };
  if (Object.keys(errors).length > 0) return again(withErrors(read.form, errors));
  const tried = attempt<Written, Why>(call, (tx, stop) => write(tx, call, loaded, { form, contacts }, stop));
  if ('why' in tried) return again(withErrors(read.form, tried.why.errors), tried.why.objections);
  const { code, id } = loaded.culture;
  return redirect(
    cultureHref(code),
    noticeOf(form, {
      code,
      written: tried.written,
      known: readEstimate(call.db, id),
      orders: ordersPromised(call.db, id),
      locale: call.business.locale,
    }),
  );
}
