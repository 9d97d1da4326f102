import { h } from 'preact';
import { offerSettingsForm } from '../../shared/offers/settings-form.ts';
import { groupsToSpare } from '../../shared/orders/make-up.ts';
import { languageNames, languages, localeFor } from '../../shared/settings/languages.ts';
import type { FormState } from '../../views/layout/form-state.ts';
import { offerText } from '../../views/offers/offer-words.ts';
import { OffersPage } from '../../views/offers/page-offers.tsx';
import { speakerFor } from '../../views/words/speaker.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { changesBetween, note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { filledWith, isOvertaken, type Outcome, overtaken, saved, tooLate } from '../plumbing/edits.ts';
import { notFound } from '../plumbing/errors.ts';
import { readForm } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import { ownAddress } from '../plumbing/own-address.ts';
import {
  type Offerable,
  offerable,
  offerOf,
  offerSettings,
  offersFor,
  readSpareOnce,
  saveOfferSettings,
  setListed,
} from './queries.ts';
import { waitingRequests } from './queries-requests.ts';

/** How many groups of a species all its cultures can spare together. */
export function groupsSpare(
  call: StaffCall,
  one: Pick<Offerable, 'id' | 'groupAdults' | 'groupJuveniles' | 'groupExtras'>,
  spareOf = readSpareOnce(call.db),
) {
  return spareOf(one.id).reduce((sum, row) => sum + Math.max(0, groupsToSpare(row, one, one)), 0);
}

function textsFor(call: StaffCall, spareOf: ReturnType<typeof readSpareOnce>) {
  const { db, business, today } = call;
  const { mostShown } = offerSettings(db);
  return languages.map((language) => {
    const locale = localeFor(language, business.country, business.locale);
    const offers = offersFor(db, { today, mostShown, language }, spareOf);
    const said = { offers, currency: business.currency, business: business.name, today };
    return { language: languageNames[language], text: offerText(speakerFor({ language, locale }), said) };
  });
}

function offersPage(call: StaffCall, form: FormState) {
  const { db, business, today, config } = call;
  const { isOn, mostShown } = offerSettings(db);
  const spareOf = readSpareOnce(db);
  return h(OffersPage, {
    furniture: call.furniture,
    rows: offerable(db).map((one) => ({
      offer: offerOf(db, one, { today, mostShown, language: 'en' }, spareOf),
      isListed: one.unlistedAt === null,
      groupsSpare: groupsSpare(call, one, spareOf),
    })),
    currency: business.currency,
    locale: business.locale,
    isOn,
    address: `${ownAddress(config)}/available`,
    form,
    waiting: waitingRequests(db),
    texts: textsFor(call, spareOf),
  });
}

function keptNow(db: Db) {
  const { isOn, mayBeFound, takesRequests, mostShown } = offerSettings(db);
  const yes = (is: boolean) => (is ? 'yes' : '');
  return { isOn: yes(isOn), mayBeFound: yes(mayBeFound), takesRequests: yes(takesRequests), mostShown };
}
const aboutOffers = { subject: 'availability list' };

export const showOffers = (call: StaffCall): Answer => page(offersPage(call, filledWith(keptNow(call.db))));

export function changeOffers(call: StaffCall): Answer {
  const read = readForm(offerSettingsForm, call.body);
  if (!read.ok) return wrongForm(offersPage(call, read.form));
  const { mostShown } = read.data;
  const is = (name: 'isOn' | 'mayBeFound' | 'takesRequests') => read.data[name] === 'yes';
  const values = {
    isOn: is('isOn'),
    mayBeFound: is('mayBeFound'),
    takesRequests: is('takesRequests'),
    mostShown,
  };
  const at = call.clock.now();
  const outcome = call.once((tx): Outcome => {
    if (isOvertaken(call, keptNow(tx))) return overtaken;
    const changes = changesBetween(offerSettings(tx), values);
    saveOfferSettings(tx, values);
    note(tx, { at, personId: call.who.id, action: 'changed', ...aboutOffers, ...changes });
    return saved;
  });
  if (outcome.overtaken) return page(offersPage(call, tooLate(call, keptNow(call.db), aboutOffers)), 409);
  return redirect(
    '/offers',
    values.isOn ? 'Saved. Everybody can read the list now.' : 'Saved. The public page is off.',
  );
}

/** Puts a species on the list or leaves it out. */
export function listSpecies(call: StaffCall): Answer {
  const id = numberIn(call, 'id', 'species');
  const found = offerable(call.db).find((one) => one.id === id);
  if (!found) throw notFound('species');
  const isListed = call.body.listed === 'yes';
  const at = call.clock.now();
  call.once((tx) => {
    setListed(tx, id, isListed, at);
    const action = isListed ? 'listed' : 'left out of the list';
    note(tx, { at, personId: call.who.id, action, subject: `species ${id}` });
  });
  return redirect('/offers', {
    text: `${found.scientificName} is ${isListed ? 'listed' : 'left out of the list'}.`,
    tone: 'plain',
    undo: { action: `/offers/species/${id}`, label: 'Undo', fields: { listed: isListed ? 'no' : 'yes' } },
  });
}
