import { h } from 'preact';
import { type CheckForm, checkForm } from '../../shared/checks/form.ts';
import { backToRound, partFrom, roundPath } from '../../shared/checks/round-address.ts';
import { mlOf } from '../../shared/settings/typed-volume.ts';
import { CheckPage } from '../../views/checks/page-check.tsx';
import { cultureHref } from '../../views/cultures/page-list.tsx';
import { refreshAfterLook } from '../counts/queries-look.ts';
import { type LoadedCulture, loadCulture } from '../cultures/queries.ts';
import { appendEntry, type NewEntry, readDiary } from '../cultures/queries-diary.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { Refusal } from '../plumbing/errors.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import { type Contacts, contactChoices, readContacts, writeSharedTool } from '../traces/queries-typed.ts';
import { tellRound } from './tell-round.ts';
import { openOf } from './todays-round.ts';

function checkPage(call: StaffCall, loaded: LoadedCulture, form: FormState) {
  const { culture, species, place } = loaded;
  return h(CheckPage, {
    furniture: call.furniture,
    code: culture.code,
    scientificName: species.scientificName,
    place: place?.fullName ?? null,
    cautions: species.cautions,
    inQuarantine: culture.status === 'quarantine',
    part: partFrom(call.query.from),
    form,
    today: call.today,
    last: readDiary(call.db, culture.id, { limit: 4, offset: 0 }),
    contacts: contactChoices(call, culture),
    open: openOf(call, culture.code),
  });
}

export function askCheck(call: StaffCall): Answer {
  const loaded = loadCulture(call.db, call.params.code ?? '');
  return page(checkPage(call, loaded, { values: { onDay: call.today }, errors: {} }));
}

/** A look and what was done at it, as the entries they are in the diary; the check comes first. */
function entriesOf(
  form: CheckForm,
  base: Pick<NewEntry, 'cultureId' | 'onDay' | 'via' | 'madeBy' | 'madeAt'>,
  detection: { alpha: number; beta: number },
  feeder: Contacts['feeder'] = null,
): NewEntry[] {
  const entries: NewEntry[] = [
    {
      ...base,
      kind: 'check',
      surface: form.surface ?? null,
      springtails: form.springtails ?? null,
      springtailsWhere: form.springtailsWhere ?? null,
      feedersLeft: form.feedersLeft ?? null,
      youngSeen: form.youngSeen === 'yes' || form.lookedFor === 'young',
      lookedFor: form.lookedFor ?? null,
      eggsSeen: form.eggsSeen === 'yes',
      mouldSeen: form.mouldSeen === 'yes',
      mitesSeen: form.mitesSeen === 'yes',
      deaths: form.deaths ?? null,
      substrate: form.substrate ?? null,
      note: form.note,
    },
  ];
  if (form.visible !== undefined) {
    entries.push({
      ...base,
      kind: 'count',
      countInput: JSON.stringify({ method: 'visible', counted: form.visible, detection }),
    });
  }
  if (form.waterMl !== undefined)
    entries.push({ ...base, kind: 'water', waterMl: mlOf(form.waterMl, form.waterUnit ?? 'ml') });
  if (form.food || feeder)
    entries.push({
      ...base,
      kind: 'feed',
      food: form.food ?? feeder?.name.slice(0, 80),
      otherCultureId: feeder?.id ?? null,
    });
  if (form.fruitOut) entries.push({ ...base, kind: 'fruit-out' });
  if (form.fruitIn) entries.push({ ...base, kind: 'fruit-in' });
  return entries;
}

/** Writes a check and brings the estimate up to it; returns the check's own entry. */
export function writeCheck(
  tx: Db,
  loaded: LoadedCulture,
  form: CheckForm,
  by: { today: string; now: number; personId: string },
  contacts: Contacts = { feeder: null, toolsFromId: null },
): number {
  const { culture, species } = loaded;
  if (culture.status === 'retired')
    throw new Refusal(409, 'Retired', `${culture.code} is retired: nothing is checked there any more.`);
  const base = {
    cultureId: culture.id,
    onDay: form.onDay ?? by.today,
    via: 'page' as const,
    madeBy: by.personId,
    madeAt: by.now,
  };
  const detection = { alpha: species.detectionAlpha, beta: species.detectionBeta };
  const entries = entriesOf(form, base, detection, contacts.feeder);
  const [first = 0] = entries.map((entry) => appendEntry(tx, entry));
  writeSharedTool(tx, contacts, { ...base, id: first });
  refreshAfterLook(tx, culture.id, by.today, by.now);
  return first;
}

const nextPage = ({ query }: StaffCall, code: string) => backToRound(query.from) ?? cultureHref(code);

export function saveCheck(call: StaffCall): Answer {
  // Sent twice (a phone that heard no answer), the second is answered like the first, whatever became wrong meanwhile.
  if (call.outcome() !== null) return redirect(nextPage(call, call.params.code ?? ''));
  const loaded = loadCulture(call.db, call.params.code ?? '');
  const read = readForm(checkForm, call.body);
  if (!read.ok) return wrongForm(checkPage(call, loaded, read.form));
  const { onDay = call.today } = read.data;
  const about = { culture: loaded.culture, onDay, today: call.today, locale: call.business.locale };
  const { contacts, errors } = readContacts(call.db, read.data, about);
  if (onDay > call.today) errors.onDay = 'That day is still to come.';
  if (onDay < loaded.culture.foundedOn)
    errors.onDay = `The culture was founded only on ${loaded.culture.foundedOn}.`;
  if (Object.keys(errors).length > 0)
    return wrongForm(checkPage(call, loaded, withErrors(read.form, errors)));
  const by = { today: call.today, now: call.clock.now(), personId: call.who.id };
  const id = call.once((tx) => writeCheck(tx, loaded, read.data, by, contacts));
  const { code } = loaded.culture;
  tellRound(call.db, [code]);
  const found = read.data.mitesSeen ? 'mites' : read.data.mouldSeen ? 'mould' : null;
  const undo = {
    action: `${cultureHref(code)}/diary/${id}/withdraw`,
    label: 'Undo',
    fields: { back: roundPath(partFrom(call.query.from)), whole: 'yes' },
  };
  return redirect(nextPage(call, code), {
    text: `${code} is checked.`,
    tone: 'plain',
    links: found
      ? [{ href: `${cultureHref(code)}/trace?what=${found}`, label: 'Who had contact with it' }]
      : [],
    undo,
  });
}
