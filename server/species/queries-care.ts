import { and, asc, desc, eq, inArray } from 'drizzle-orm';
import type { Language } from '../../shared/settings/languages.ts';
import { type CareHeading, type CareText, careHeadings } from '../../shared/species/columns.ts';
import type { Db } from '../plumbing/open-database.ts';
import { careVersions, careVersionTerms, careVersionTexts, people } from '../schema/tables.ts';
import { readCare, readSpecies, type Species } from './queries.ts';

/** What a species' care text says in one language. */
export type CareWords = {
  commonName: string;
  text: CareText;
  /** One a line. */
  cautions: string;
  /** What layers, materials and the enclosure are called, by their English words. */
  terms: Record<string, string>;
};

export type CareVersion = CareWords & {
  id: number;
  speciesId: number;
  language: Language;
  madeAt: number;
  by: string | null;
  againOf: number | null;
};

export const noWords = (): CareWords => ({ commonName: '', cautions: '', text: noText(), terms: {} });

const noText = (): CareText => Object.fromEntries(careHeadings.map((heading) => [heading, ''])) as CareText;

const columns = {
  id: careVersions.id,
  speciesId: careVersions.speciesId,
  language: careVersions.language,
  commonName: careVersions.commonName,
  cautions: careVersions.cautions,
  madeAt: careVersions.madeAt,
  by: people.name,
  againOf: careVersions.againOf,
};
type Row = Omit<CareVersion, 'text' | 'terms'>;

function withWords(db: Db, rows: readonly Row[]): CareVersion[] {
  const ids = rows.map(({ id }) => id);
  const texts = db.select().from(careVersionTexts).where(inArray(careVersionTexts.versionId, ids)).all();
  const terms = db.select().from(careVersionTerms).where(inArray(careVersionTerms.versionId, ids)).all();
  return rows.map((row) => {
    const text = noText();
    for (const one of texts) if (one.versionId === row.id) text[one.heading] = one.text;
    const own = terms.filter((one) => one.versionId === row.id);
    return { ...row, text, terms: Object.fromEntries(own.map(({ term, words }) => [term, words])) };
  });
}

const selected = (db: Db) =>
  db.select(columns).from(careVersions).leftJoin(people, eq(people.id, careVersions.madeBy));

/** The text in use: the newest of a species in a language. */
export function newestVersion(db: Db, speciesId: number, language: Language): CareVersion | undefined {
  const row = selected(db)
    .where(and(eq(careVersions.speciesId, speciesId), eq(careVersions.language, language)))
    .orderBy(desc(careVersions.id))
    .limit(1)
    .get();
  return row && withWords(db, [row])[0];
}

export function readVersion(db: Db, id: number): CareVersion | undefined {
  const row = selected(db).where(eq(careVersions.id, id)).get();
  return row && withWords(db, [row])[0];
}

/** The versions of a species in a language without their words, the newest first. */
export function listVersions(db: Db, speciesId: number, language: Language, limit: number): Row[] {
  return selected(db)
    .where(and(eq(careVersions.speciesId, speciesId), eq(careVersions.language, language)))
    .orderBy(desc(careVersions.id))
    .limit(limit)
    .all();
}

/** The languages that anything was written in for a species. */
export function languagesWritten(db: Db, speciesId: number): Set<Language> {
  const rows = db
    .selectDistinct({ language: careVersions.language })
    .from(careVersions)
    .where(eq(careVersions.speciesId, speciesId))
    .orderBy(asc(careVersions.language))
    .all();
  return new Set(rows.map(({ language }) => language));
}

type By = { personId: string | null; at: number };

export function insertVersion(
  tx: Db,
  speciesId: number,
  language: Language,
  words: CareWords,
  { personId, at, againOf = null }: By & { againOf?: number | null },
): number {
  const { commonName, cautions, text, terms } = words;
  const { id: versionId } = tx
    .insert(careVersions)
    .values({ speciesId, language, commonName, cautions, againOf, madeBy: personId, madeAt: at })
    .returning({ id: careVersions.id })
    .get();
  for (const heading of careHeadings)
    if (text[heading] !== '')
      tx.insert(careVersionTexts).values({ versionId, heading, text: text[heading] }).run();
  for (const [term, said] of Object.entries(terms))
    if (term !== '' && said !== '')
      tx.insert(careVersionTerms).values({ versionId, term, words: said }).run();
  return versionId;
}

/** Whether two texts say the same. */
export const saysTheSame = (one: CareWords, other: CareWords): boolean =>
  JSON.stringify(plain(one)) === JSON.stringify(plain(other));

const plain = ({ commonName, cautions, text, terms }: CareWords) => [
  commonName,
  cautions,
  careHeadings.map((heading) => text[heading]),
  Object.entries(terms)
    .filter(([, words]) => words !== '')
    .sort(([a], [b]) => (a < b ? -1 : 1)),
];

/** The English words of a species, which stand with the rest of it. */
export const englishOf = (db: Db, { id, commonName, cautions }: Species): CareWords => ({
  commonName,
  cautions,
  text: readCare(db, id),
  terms: {},
});

/**
 * Keeps the English text as a version when it differs from the last one, and says which one is in use. English stands
 * with the species, where imports and the starter set write it too; so this is asked again before a sheet is kept.
 */
export function keepEnglish(tx: Db, speciesId: number, by: By): number | null {
  const species = readSpecies(tx, speciesId);
  if (!species) return null;
  const now = englishOf(tx, species);
  const last = newestVersion(tx, speciesId, 'en');
  if (last && saysTheSame(last, now)) return last.id;
  const hasWords = now.cautions !== '' || Object.values(now.text).some((text) => text !== '');
  return last || hasWords ? insertVersion(tx, speciesId, 'en', now, by) : null;
}

export type CareInLanguage = CareWords & {
  versionId: number | null;
  /** What stands in English because nobody wrote it in this language. */
  inEnglish: ('name' | 'cautions' | CareHeading)[];
};

/** A species' care text in a language; what is missing in it is filled up in English, and said. */
export function careIn(db: Db, species: Species, language: Language): CareInLanguage {
  const english = englishOf(db, species);
  const version = newestVersion(db, species.id, language);
  if (language === 'en') return { ...english, versionId: version?.id ?? null, inEnglish: [] };
  const own = version ?? noWords();
  const missing = careHeadings.filter((heading) => own.text[heading] === '' && english.text[heading] !== '');
  const text = { ...own.text };
  for (const heading of missing) text[heading] = english.text[heading];
  const lacksName = own.commonName === '' && english.commonName !== '';
  const lacksCautions = own.cautions === '' && english.cautions !== '';
  return {
    commonName: lacksName ? english.commonName : own.commonName,
    cautions: lacksCautions ? english.cautions : own.cautions,
    text,
    terms: own.terms,
    versionId: version?.id ?? null,
    inEnglish: [
      ...(lacksName ? (['name'] as const) : []),
      ...missing,
      ...(lacksCautions ? (['cautions'] as const) : []),
    ],
  };
}
