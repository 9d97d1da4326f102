import { h } from 'preact';
import { backToRound, roundFrom } from '../../shared/checks/round-address.ts';
import { countEstimate } from '../../shared/counts/count.ts';
import { type CountMethod, countInput } from '../../shared/counts/form.ts';
import {
  type CountForm,
  countForms,
  countOf,
  fieldOfFault,
  methodChosen,
} from '../../shared/counts/page-form.ts';
import { readTaps } from '../../shared/counts/taps.ts';
import { type Objection, standingObjections } from '../../shared/cultures/objections.ts';
import { contradiction } from '../../shared/cultures/taking.ts';
import { CalculationError } from '../../shared/faults.ts';
import { CountPage } from '../../views/counts/page-count.tsx';
import { cultureHref } from '../../views/cultures/page-list.tsx';
import { dayFault, sayNumber } from '../../views/cultures/say.ts';
import { formatEstimate } from '../../views/layout/round-estimate.ts';
import type { LoadedCulture } from '../cultures/queries.ts';
import { appendEntry } from '../cultures/queries-diary.ts';
import { loadKeptCulture } from '../cultures/queries-kept.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { attempt } from '../plumbing/attempt.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import { tellNews } from '../plumbing/news.ts';
import type { Db } from '../plumbing/open-database.ts';
import { type Contacts, contactChoices, readContacts, writeSharedTool } from '../traces/queries-typed.ts';
import { readEstimate, refreshEstimate } from './queries-estimate.ts';
import { lastMethod } from './queries-last-count.ts';
import { keepPhoto } from './queries-photos.ts';

type Shown = { method: CountMethod; form: FormState; objections?: Objection[] };

function countPage(call: StaffCall, loaded: LoadedCulture, { method, form, objections = [] }: Shown) {
  const { culture, species, place } = loaded;
  return h(CountPage, {
    furniture: call.furniture,
    code: culture.code,
    scientificName: species.scientificName,
    place: place?.fullName ?? null,
    method,
    from: cameFrom(call),
    form,
    today: call.today,
    known: sayNumber(readEstimate(call.db, culture.id), call.today, call.business.locale),
    shows: species.detectionAlpha / (species.detectionAlpha + species.detectionBeta),
    cautions: species.cautions,
    objections,
    contacts: contactChoices(call, culture),
  });
}

/** Whoever comes from the round goes on with it. */
const cameFrom = ({ query, body }: StaffCall) => roundFrom(body.from ?? query.from);
const nextPage = (call: StaffCall, code: string) => backToRound(cameFrom(call)) ?? cultureHref(code);

const load = (call: StaffCall) => loadKeptCulture(call.db, call.params.code ?? '', 'counted');

export function askCount(call: StaffCall): Answer {
  const loaded = load(call);
  const asked = call.query.method ?? lastMethod(call.db, loaded.culture.id);
  const method = methodChosen.parse(asked);
  return page(countPage(call, loaded, { method, form: { values: { onDay: call.today }, errors: {} } }));
}

/** The count with its defaults filled in, and what it says by itself; or what is wrong, beside its field. */
function reckon(form: CountForm, detection: { alpha: number; beta: number }) {
  const { input, wording } = countOf(form, detection);
  const checked = countInput.parse(input);
  try {
    return { input: checked, wording, alone: countEstimate(checked), fault: null };
  } catch (error) {
    if (!(error instanceof CalculationError)) throw error;
    const subject = error.path === 'catches' ? 'The catches' : 'This';
    return { fault: { [fieldOfFault(form.method, error.path)]: `${subject} ${error.message}.` } };
  }
}

type Written = { id: number; now: string | null };
type Counted = { input: object; wording: string | null; contacts: Contacts };

/** The photo that a visible count was tapped on, as the form names it. */
const photoIn = ({ body }: StaffCall): number | null =>
  body.method === 'visible' && typeof body.photo === 'string' && /^[1-9]\d{0,14}$/.test(body.photo)
    ? Number(body.photo)
    : null;

function append(
  tx: Db,
  loaded: LoadedCulture,
  form: CountForm,
  count: Counted,
  call: StaffCall,
  stop: (objections: Objection[]) => never,
): Written {
  const { id: cultureId } = loaded.culture;
  const now = call.clock.now();
  const { onDay = call.today } = form;
  const before = readEstimate(tx, cultureId)?.fault ?? null;
  const id = appendEntry(tx, {
    cultureId,
    onDay,
    kind: 'count',
    countInput: JSON.stringify(count.input),
    wording: count.wording,
    note: form.note,
    via: 'page',
    madeBy: call.who.id,
    madeAt: now,
  });
  const photoId = photoIn(call);
  // One that belongs to another count by now stays there; this count is no less true without it.
  if (photoId !== null)
    keepPhoto(tx, { id: photoId, cultureId, diaryId: id, taps: readTaps(call.body.taps) });
  writeSharedTool(tx, count.contacts, { id, cultureId, onDay, madeBy: call.who.id, madeAt: now });
  refreshEstimate(tx, cultureId, call.today, now);
  const known = readEstimate(tx, cultureId);
  const faults = { before, after: known?.fault ?? null };
  const against = contradiction(faults, onDay, 'Write it down all the same');
  const standing = standingObjections(against ? [against] : [], form, call.who.role === 'owner');
  if (standing.length > 0) stop(standing);
  if (known?.median == null) return { id, now: null };
  return { id, now: formatEstimate(known.median, known.lower ?? 0, known.upper ?? 0, call.business.locale) };
}

export function saveCount(call: StaffCall): Answer {
  if (call.outcome()) return redirect(nextPage(call, call.params.code ?? ''));
  const loaded = load(call);
  const { culture, species } = loaded;
  const method = methodChosen.parse(call.body.method);
  const again = (form: FormState, objections?: Objection[]) =>
    wrongForm(countPage(call, loaded, { method, form, objections }));
  if (call.body.method !== method) return again({ values: {}, errors: { '': 'Choose a way of counting.' } });
  const read = readForm(countForms[method], call.body);
  if (!read.ok) return again(read.form);
  // The schema was chosen by the method, which the compiler cannot see.
  const form = { method, ...read.data } as CountForm;
  const { today } = call;
  const about = { culture, onDay: form.onDay ?? today, today, locale: call.business.locale };
  const { contacts, errors } = readContacts(call.db, form, about);
  const wrongDay = dayFault(culture, about.onDay, today, about.locale);
  if (wrongDay) errors.onDay = wrongDay;
  if (Object.keys(errors).length > 0) return again(withErrors(read.form, errors));
  const count = reckon(form, { alpha: species.detectionAlpha, beta: species.detectionBeta });
  if (count.fault) return again(withErrors(read.form, count.fault));
  const tried = attempt<Written, Objection[]>(call, (tx, stop) =>
    append(tx, loaded, form, { ...count, contacts }, call, stop),
  );
  if ('why' in tried) return again(read.form, tried.why);
  const { estimate, lower, upper } = count.alone;
  const alone = formatEstimate(estimate, lower, upper, call.business.locale);
  tellNews(call.db, { topic: 'round', about: [culture.code] });
  const { id, now } = tried.written;
  return redirect(nextPage(call, culture.code), {
    text: `Counted. Alone it says ${alone}; ${now ? `with all that is known: ${now}.` : 'the diary contradicts itself, so nothing more can be said.'}`,
    tone: now ? 'plain' : 'needs-you',
    undo: { action: `${cultureHref(culture.code)}/diary/${id}/withdraw`, label: 'Undo' },
  });
}
