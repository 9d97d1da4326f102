import { h } from 'preact';
import { isLanguage, type Language, languageNames } from '../../shared/settings/languages.ts';
import {
  againForm,
  careOfForm,
  careTextForm,
  readTerms,
  termFields,
  termsOf,
} from '../../shared/species/care-form.ts';
import { careHeadings } from '../../shared/species/columns.ts';
import { careField } from '../../shared/species/form.ts';
import type { FormState } from '../../views/layout/form-state.ts';
import { formatMoment } from '../../views/layout/format.ts';
import { CareTextsPage } from '../../views/species/page-care-texts.tsx';
import { tradeWord } from '../../views/words/trade.ts';
import { readEnclosure } from '../enclosures/queries.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { filledWith, isOvertaken, tooLate } from '../plumbing/edits.ts';
import { Refusal } from '../plumbing/errors.ts';
import { readForm } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import { readLayers, readSpecies, type Species, saveEnglishWords } from './queries.ts';
import {
  type CareWords,
  englishOf,
  insertVersion,
  keepEnglish,
  languagesWritten,
  listVersions,
  newestVersion,
  noWords,
  readVersion,
  saysTheSame,
} from './queries-care.ts';
import { speciesIn } from './read.ts';
import { subjectOf } from './save.ts';

const versionsShown = 50;

const languageIn = (text: unknown): Language => (typeof text === 'string' && isLanguage(text) ? text : 'en');

/** What is in use in a language. English stands with the species. */
function wordsInUse(db: Db, species: Species, language: Language): CareWords {
  return language === 'en' ? englishOf(db, species) : (newestVersion(db, species.id, language) ?? noWords());
}

/** The words of the drawing in one line, so that two people's can be told apart. */
const termsInWords = (terms: Record<string, string>) =>
  Object.entries(terms)
    .map(([english, said]) => `${english}: ${said}`)
    .sort()
    .join('; ');

/** What the form shows of a text. The English name stands with the species and is changed there. */
const keptNow = (words: CareWords, language: Language) => ({
  ...(language !== 'en' && { commonName: words.commonName, terms: termsInWords(words.terms) }),
  cautions: words.cautions,
  ...Object.fromEntries(careHeadings.map((heading) => [careField(heading), words.text[heading]])),
});

const isBlank = ({ text }: CareWords) => careHeadings.every((heading) => text[heading] === '');

/** The words of the drawing beside what they are called, also those that are no longer in it. */
function termRows(db: Db, species: Species, language: Language, said: Record<string, string>) {
  const home = species.homeEnclosureId === null ? null : readEnclosure(db, species.homeEnclosureId);
  const needed = termsOf(home, readLayers(db, species.id));
  const others = Object.keys(said).filter((term) => !needed.includes(term));
  return [...needed, ...others].map((english, i) => ({
    english,
    name: termFields.words(i),
    englishName: termFields.english(i),
    words: said[english] ?? '',
    usual: tradeWord(language, english) ?? null,
  }));
}

/** What comes back of a form that was sent. */
type Back = { form?: FormState; terms?: Record<string, string> };

function careTextsPage(call: StaffCall, species: Species, language: Language, back: Back = {}) {
  const { db, business } = call;
  const used = wordsInUse(db, species, language);
  const versions = listVersions(db, species.id, language, versionsShown);
  const english = englishOf(db, species);
  return h(CareTextsPage, {
    furniture: call.furniture,
    species,
    language,
    written: [...languagesWritten(db, species.id), ...(isBlank(english) ? [] : (['en'] as const))],
    form: back.form ?? filledWith(keptNow(used, language)),
    english,
    usualName: tradeWord(language, english.commonName) ?? null,
    terms: language === 'en' ? [] : termRows(db, species, language, back.terms ?? used.terms),
    versions: versions.map((version, index) => ({
      id: version.id,
      by: version.by,
      when: formatMoment(version.madeAt, business.timeZone, business.locale),
      inUse: index === 0,
      againOf: version.againOf,
    })),
  });
}

export function showCareTexts(call: StaffCall): Answer {
  return page(careTextsPage(call, speciesIn(call), languageIn(call.query.language)));
}

/** Writes a version down and, for English, what stands with the species. */
function put(
  tx: Db,
  call: StaffCall,
  species: Species,
  language: Language,
  words: CareWords,
  again?: number,
) {
  const by = { personId: call.who.id, at: call.clock.now() };
  if (language === 'en') {
    // the common name is changed where the species is
    const saved = { ...words, commonName: species.commonName, terms: {} };
    // an English text that came with an import or the starter set is a version too, before it is replaced
    keepEnglish(tx, species.id, by);
    saveEnglishWords(tx, species.id, words);
    insertVersion(tx, species.id, language, saved, { ...by, againOf: again ?? null });
  } else insertVersion(tx, species.id, language, words, { ...by, againOf: again ?? null });
  note(tx, {
    at: by.at,
    personId: by.personId,
    action: again === undefined ? 'changed' : 'took up again',
    subject: subjectOf(species.id),
    after: { [`care text in ${languageNames[language]}`]: JSON.stringify(words.text) },
  });
}

export function saveCareTexts(call: StaffCall): Answer {
  const species = speciesIn(call);
  const read = readForm(careTextForm, call.body);
  const terms = readTerms(call.body);
  const asked = languageIn(call.body.language);
  if (!read.ok) return wrongForm(careTextsPage(call, species, asked, { form: read.form, terms }));
  const { language, commonName, cautions } = read.data;
  const words: CareWords = { commonName, cautions, text: careOfForm(read.data), terms };
  const outcome = call.once((tx) => {
    const used = wordsInUse(tx, readSpecies(tx, species.id) ?? species, language);
    const own = language === 'en' ? { ...words, commonName: used.commonName, terms: {} } : words;
    if (isOvertaken(call, keptNow(used, language))) return 'overtaken' as const;
    if (saysTheSame(used, own)) return 'same' as const;
    put(tx, call, species, language, own);
    return 'saved' as const;
  });
  const back = `/species/${species.id}/care?language=${language}`;
  if (outcome !== 'overtaken')
    return redirect(
      back,
      outcome === 'same' ? 'Nothing was changed.' : `The ${languageNames[language]} care text is saved.`,
    );
  const form = overtakenForm(call, species, language, termsInWords(terms));
  return page(careTextsPage(call, species, language, { form, terms }), 409);
}

/** What was typed beside the version that somebody saved meanwhile; each version knows who wrote it. */
function overtakenForm(call: StaffCall, species: Species, language: Language, terms: string): FormState {
  const kept = keptNow(wordsInUse(call.db, speciesIn(call), language), language);
  const late = tooLate(call, kept, { subject: subjectOf(species.id) });
  const [last] = listVersions(call.db, species.id, language, 1);
  const { timeZone, locale } = call.business;
  const savedWhen = last ? `on ${formatMoment(last.madeAt, timeZone, locale)}` : 'meanwhile';
  return {
    ...late,
    values: { ...late.values, terms },
    meanwhile: { savedBy: last?.by ?? null, savedWhen, stored: kept },
  };
}

/** An earlier version becomes the newest. */
export function useCareTextAgain(call: StaffCall): Answer {
  const species = speciesIn(call);
  const read = readForm(againForm, call.body);
  const version = read.ok ? readVersion(call.db, read.data.version) : undefined;
  if (version?.speciesId !== species.id || !version)
    throw new Refusal(404, 'No such version', 'This care text is not among those of the species.');
  call.once((tx) => {
    put(tx, call, species, version.language, version, version.id);
    return true;
  });
  return redirect(
    `/species/${species.id}/care?language=${version.language}`,
    `The ${languageNames[version.language]} care text of ${formatMoment(version.madeAt, call.business.timeZone, call.business.locale)} is in use again.`,
  );
}
