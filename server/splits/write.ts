import { h } from 'preact';
import { foundingDoubt } from '../../shared/cultures/form.ts';
import { noteWithReason, type Objection, unanswered } from '../../shared/cultures/objections.ts';
import { heldObjection, objectionsToTaking, tooMany } from '../../shared/cultures/taking.ts';
import { mlOf, volumeUnitsOf } from '../../shared/settings/typed-volume.ts';
import { type SplitForm, splitForm } from '../../shared/splits/form.ts';
import { safeStartOf, startObjection } from '../../shared/splits/safe-start.ts';
import { cultureHref } from '../../views/cultures/page-list.tsx';
import { dayFault, sayNumber } from '../../views/cultures/say.ts';
import { SplitPage } from '../../views/splits/page-split.tsx';
import { substrateOf } from '../checks/queries-substrate.ts';
import { readEstimate, refreshEstimate } from '../counts/queries-estimate.ts';
import { tryTaking } from '../counts/queries-taking.ts';
import {
  addCulture,
  type Culture,
  choices,
  findCulture,
  type LoadedCulture,
  promisedOf,
  suggestCode,
} from '../cultures/queries.ts';
import { appendEntry, type NewEntry } from '../cultures/queries-diary.ts';
import { loadKeptCulture } from '../cultures/queries-kept.ts';
import { apartRules, neverMixedWith } from '../lines/queries-apart.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { attempt } from '../plumbing/attempt.ts';
import { note } from '../plumbing/audit.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import { type Contacts, contactChoices, readContacts, writeSharedTool } from '../traces/queries-typed.ts';
import { addParent } from './queries.ts';
import { startsOf } from './start.ts';

const tick = 'Split all the same';

function splitPage(call: StaffCall, loaded: LoadedCulture, form: FormState, objections: Objection[] = []) {
  const { db, today, business } = call;
  const { culture, species, place } = loaded;
  const known = readEstimate(db, culture.id);
  const offered = choices(db);
  const promised = promisedOf(db, culture.id);
  return h(SplitPage, {
    furniture: call.furniture,
    code: culture.code,
    scientificName: species.scientificName,
    place: place?.fullName ?? null,
    cautions: species.cautions,
    health: known?.health ?? 'well',
    known: sayNumber(known, today, business.locale),
    reserve: known?.reserve ?? null,
    promised,
    promisable: known?.promisable ?? null,
    free: known?.median == null ? null : Math.max(0, known.promisable - promised),
    safeStart: safeStartOf(species),
    needs: species,
    enclosures: withOwn(offered.enclosures, loaded.enclosure),
    places: offered.places,
    lines: offered.lines.filter((line) => line.speciesId === species.id),
    seedingUnits: volumeUnitsOf(business.units),
    form,
    today,
    objections,
    contacts: contactChoices(call, culture),
    substrate: substrateOf(db, culture.id, today),
    start: startsOf(call, loaded, form.values),
  });
}

/** The parent's own enclosure is offered even when its kind is no longer given to new cultures. */
const withOwn = (offered: { id: number; name: string }[], own: { id: number; name: string }) =>
  offered.some((e) => e.id === own.id) ? offered : [{ id: own.id, name: own.name }, ...offered];

const load = (call: StaffCall) => loadKeptCulture(call.db, call.params.code ?? '', 'split off');

export function askSplit(call: StaffCall): Answer {
  const loaded = load(call);
  const { culture } = loaded;
  const values = {
    onDay: call.today,
    code: suggestCode(call.db, culture.speciesId),
    enclosureId: culture.enclosureId,
    lineId: culture.lineId,
    placeId: culture.placeId,
    sure: 'exact',
  };
  return page(splitPage(call, loaded, { values, errors: {} }));
}

/** What the stored stock has to say against the form. */
function faults(call: StaffCall, { culture }: LoadedCulture, data: SplitForm): Record<string, string> {
  const errors: Record<string, string> = {};
  const offered = choices(call.db);
  const onDay = dayFault(culture, data.onDay ?? call.today, call.today, call.business.locale);
  if (onDay) errors.onDay = onDay;
  const taken = data.code === undefined ? undefined : findCulture(call.db, data.code);
  if (taken) errors.code = `${taken.code} is a culture already. Choose another code.`;
  const known = (list: { id: number }[], id: number | undefined) =>
    id === undefined || list.some((one) => one.id === id);
  // A parent may live in an enclosure or a place that is not offered for new cultures any more.
  if (data.enclosureId !== culture.enclosureId && !known(offered.enclosures, data.enclosureId))
    errors.enclosureId = 'Choose an enclosure of the list.';
  if (!known(offered.places, data.placeId)) errors.placeId = 'Choose a place of the list.';
  const lines = offered.lines.filter((line) => line.speciesId === culture.speciesId);
  if (!known(lines, data.lineId)) errors.lineId = 'Choose a line of this species.';
  else {
    const stays = whyInItsLine(call.db, culture, data.lineId ?? null);
    if (stays) errors.lineId = stays;
  }
  return errors;
}

/** Under another name, animals of a line that is kept apart could be mixed after all: the split stays in its line. */
function whyInItsLine(db: Db, { code, speciesId, lineId }: Culture, chosen: number | null): string | null {
  if (lineId === null || chosen === lineId) return null;
  const why = apartRules(db, speciesId)(lineId, chosen);
  if (why) return `What is split off ${code} stays in its line: ${why}.`;
  const never = chosen === null && neverMixedWith(db, lineId).length > 0;
  return never ? `What is split off ${code} stays in its line, which is never mixed with some others.` : null;
}

/** The new culture with its lineage; it stands in the diary of its parent only. */
function found(tx: Db, call: StaffCall, { culture: parent }: LoadedCulture, data: SplitForm) {
  const now = call.clock.now();
  const animals = data.adults + data.juveniles;
  const values = {
    code: data.code ?? suggestCode(tx, parent.speciesId),
    speciesId: parent.speciesId,
    morph: parent.morph,
    lineId: data.lineId ?? null,
    enclosureId: data.enclosureId,
    placeId: data.placeId ?? null,
    foundedOn: data.onDay ?? call.today,
    origin: 'split' as const,
    foundingAnimals: animals,
    foundingSdLog: foundingDoubt[data.sure],
    status: 'active' as const,
    note: '',
    madeBy: call.who.id,
    madeAt: now,
  };
  const id = addCulture(tx, values);
  addParent(tx, id, parent.id, animals);
  note(tx, {
    at: now,
    personId: call.who.id,
    action: 'found a culture',
    subject: `culture ${values.code}`,
    before: null,
    after: { ...values, parent: parent.code },
  });
  return { id, code: values.code };
}

type Why = { objections: Objection[]; errors: Record<string, string> };
type Written = { code: string; now: string; entry: number };

function split(
  tx: Db,
  call: StaffCall,
  loaded: LoadedCulture,
  { data, contacts }: { data: SplitForm; contacts: Contacts },
  stop: (why: Why) => never,
): Written {
  const { culture: parent, species } = loaded;
  const { today, who, business } = call;
  const now = call.clock.now();
  const animals = data.adults + data.juveniles;
  const child = found(tx, call, loaded, data);
  const base = { onDay: data.onDay ?? today, via: 'page', madeBy: who.id, madeAt: now } as const;
  const moved: NewEntry & { animals: number } = {
    ...base,
    cultureId: parent.id,
    kind: 'split',
    animals,
    adults: data.adults,
    juveniles: data.juveniles,
    otherCultureId: child.id,
    substrate: data.substrate ?? null,
    seedingMl: data.seeding === undefined ? null : mlOf(data.seeding, data.seedingUnit),
  };
  const taking = tryTaking(tx, moved, today);
  const impossible = tooMany(taking);
  if (impossible) stop({ objections: [], errors: { adults: impossible } });
  const health = readEstimate(tx, parent.id)?.health ?? 'well';
  const objections = [
    startObjection(animals, species, tick),
    heldObjection(health, parent.code, tick),
    ...objectionsToTaking(taking, parent.code, tick),
  ].filter((o) => o !== null);
  const why = unanswered(objections, data, who.role === 'owner');
  if (why) stop(why);
  const id = appendEntry(tx, { ...moved, note: noteWithReason(data.note, objections, data.reason) });
  writeSharedTool(tx, contacts, { ...base, id, cultureId: parent.id });
  if (parent.status === 'quarantine') {
    const reason = `Split from ${parent.code}, which is in quarantine.`;
    appendEntry(tx, { ...base, cultureId: child.id, kind: 'quarantine', note: reason });
  }
  refreshEstimate(tx, parent.id, today, now);
  refreshEstimate(tx, child.id, today, now);
  return { code: child.code, now: sayNumber(readEstimate(tx, parent.id), today, business.locale), entry: id };
}

export function saveSplit(call: StaffCall): Answer {
  // Sent twice, the second is answered like the first; by now its code is taken.
  const before = call.outcome<Written>();
  if (before) return redirect(cultureHref(before.code));
  const loaded = load(call);
  const read = readForm(splitForm, call.body);
  if (!read.ok) return wrongForm(splitPage(call, loaded, read.form));
  const { form, data } = read;
  const { today, business } = call;
  const about = { culture: loaded.culture, onDay: data.onDay ?? today, today, locale: business.locale };
  const { contacts, errors: strangers } = readContacts(call.db, data, about);
  const errors = { ...strangers, ...faults(call, loaded, data) };
  if (Object.keys(errors).length > 0) return wrongForm(splitPage(call, loaded, withErrors(form, errors)));
  const tried = attempt<Written, Why>(call, (tx, stop) => split(tx, call, loaded, { data, contacts }, stop));
  if ('why' in tried) {
    const { why } = tried;
    return wrongForm(splitPage(call, loaded, withErrors(form, why.errors), why.objections));
  }
  const { code, now, entry } = tried.written;
  const parent = loaded.culture.code;
  return redirect(cultureHref(code), {
    text: `${code} is split off ${parent}, which is left with ${now}.`,
    tone: 'plain',
    links: [{ href: cultureHref(parent), label: `To ${parent}` }],
    undo: { action: `${cultureHref(parent)}/splits/${entry}/back`, label: 'Undo' },
  });
}
