import { and, type SQL, sql } from 'drizzle-orm';
import { searchWords } from '../plumbing/search-words.ts';
import { cultures } from '../schema/tables.ts';

/**
 * A word may begin a word of the culture itself, of its species or of its place; all words that were typed must be found
 * somewhere: "laevis rack 2".
 */
const withWord = (word: string): SQL => sql`(
  ${cultures.id} IN (SELECT rowid FROM culture_words WHERE culture_words MATCH ${word})
  OR ${cultures.speciesId} IN (SELECT rowid FROM species_words WHERE species_words MATCH ${word})
  OR ${cultures.placeId} IN (SELECT rowid FROM place_words WHERE place_words MATCH ${word}))`;

/**
 * Cultures in which every typed word is found; usable on any query that has the cultures table in it. Undefined when
 * nothing was typed.
 */
export function cultureWithWords(typed: string): SQL | undefined {
  const words = searchWords(typed);
  if (words.length === 0) return typed.trim() === '' ? undefined : sql`0`;
  return and(...words.map(withWord));
}
