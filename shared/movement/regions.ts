import { iso31662 } from 'iso-3166';

/** A first-level part of a country by ISO 3166-2: a state, a province, a land. */
export type Region = { code: string; name: string };

type Book = { regions: Region[]; byWord: Map<string, string> };
const books = new Map<string, Book>();

/** As it is compared: small letters and digits, without accents. */
const plain = (text: string) =>
  text
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]/gu, '');

/** A name with what else it is called: 'Asturias, Principado de' and 'Asturias'. */
const wordsOf = (name: string) => [name, ...name.split(/[,/[\]()]/)].map(plain).filter((word) => word !== '');

function bookOf(country: string): Book {
  const known = books.get(country);
  if (known) return known;
  const parts = iso31662.filter(({ code }) => code.startsWith(`${country}-`));
  const parentOf = new Map(parts.map(({ code, parent }) => [code, parent]));
  const topOf = (code: string): string => {
    const parent = parentOf.get(code);
    return parent === undefined || parent === country || !parentOf.has(parent) ? code : topOf(parent);
  };
  const byWord = new Map<string, string>();
  const enter = (word: string, code: string) => {
    if (!byWord.has(word)) byWord.set(word, topOf(code));
  };
  const outermostFirst = [...parts].sort(
    (a, b) => Number(topOf(a.code) !== a.code) - Number(topOf(b.code) !== b.code),
  );
  for (const { code } of outermostFirst) for (const word of [code, code.slice(3)]) enter(plain(word), code);
  for (const { code, name } of outermostFirst) for (const word of wordsOf(name)) enter(word, code);
  const regions = parts
    .filter(({ code }) => topOf(code) === code)
    .map(({ code, name }) => ({ code, name }))
    .sort((a, b) => a.name.localeCompare(b.name, 'en'));
  const book = { regions, byWord };
  books.set(country, book);
  return book;
}

/**
 * The states, provinces or lands of a country, by name; none for a code that is no country's or one without parts.
 *
 * Source: ISO 3166-2, as the library iso-3166 lists it; names are as people there write them.
 *
 * @example regionsOf('DE')[0] // { code: 'DE-BW', name: 'Baden-Württemberg' }
 */
export const regionsOf = (country: string): readonly Region[] => bookOf(country).regions;

/**
 * The ISO 3166-2 code of what somebody wrote as a region: a code with or without its country, or a name; a part of a region
 * (a county, a department) gives the region it lies in. Null where nothing is written or it is not known as such.
 *
 * @example recogniseRegion('US', 'california') // 'US-CA'
 */
export function recogniseRegion(country: string, text: string): string | null {
  const word = plain(text);
  return word === '' ? null : (bookOf(country).byWord.get(word) ?? null);
}

/**
 * A region's name; its code where it is not known.
 *
 * @example regionName('US-CA') // 'California'
 */
export const regionName = (code: string): string =>
  bookOf(code.slice(0, 2)).regions.find((one) => one.code === code)?.name ?? code;
