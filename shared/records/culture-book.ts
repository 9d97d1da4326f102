import { scientificNameFor } from '../species/common-names.ts';
import { type CodeIndex, type CodeMatch, codeForm, findCode, indexCodes } from './codes.ts';
import type { Parent } from './entries.ts';

/** A culture that the records hold already. */
export interface KnownCulture {
  code: string;
  /** Every name its species goes by, the scientific one first. */
  speciesNames: string[];
  lineName: string | null;
  foundedOn: string;
  foundingAnimals: number;
  parents: Parent[];
  /** The most animals it can be taken to hold, the upper end of its capacity; null where nothing is known. */
  largest: number | null;
}

/** A culture a diary may speak of: from the records, or from the file of cultures that comes with it. */
export interface BookedCulture {
  code: string;
  speciesNames: string[];
  lineName: string | null;
  foundedOn: string | null;
  foundingAnimals: number | null;
  known: KnownCulture | null;
  /** The line of the file of cultures; null for one from the records. */
  line: number | null;
  largest: number | null;
}

export interface CultureBook {
  index: CodeIndex;
  byCode: Map<string, BookedCulture>;
}

export function bookCultures(cultures: Iterable<BookedCulture>): CultureBook {
  const byCode = new Map<string, BookedCulture>();
  for (const culture of cultures) if (!byCode.has(culture.code)) byCode.set(culture.code, culture);
  return { index: indexCodes(byCode.keys()), byCode };
}

/** Finds a culture by what is written, after the corrections the person gave for codes. */
export function cultureFinder(
  book: CultureBook,
  corrections: readonly { written: string; means: string }[],
): (text: string) => CodeMatch {
  const corrected = new Map(corrections.map(({ written, means }) => [codeForm(written), means]));
  return (text) => findCode(book.index, corrected.get(codeForm(text)) ?? text);
}

/** Whether two sets of names mean one species; `synonyms` are groups of names of one species each. */
export function speciesKeys(synonyms: readonly (readonly string[])[]): (name: string) => string {
  const keys = new Map<string, string>();
  for (const names of synonyms) {
    const key = nameForm(names[0] ?? '');
    for (const name of names)
      if (nameForm(name) !== '' && !keys.has(nameForm(name))) keys.set(nameForm(name), key);
  }
  return (name) => {
    const form = nameForm(name);
    const known = keys.get(form);
    if (known !== undefined) return known;
    // A name of the trade in another number or spelling still means its species.
    const meant = nameForm(scientificNameFor(name) ?? name);
    return keys.get(meant) ?? meant;
  };
}

function nameForm(name: string): string {
  return name.normalize('NFKC').toLowerCase().replace(/\s+/g, ' ').trim();
}
