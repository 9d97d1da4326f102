/** The words of what was typed into a search box, each as a query that a word of the index must begin with. */
export const searchWords = (typed: string): string[] =>
  typed
    .normalize('NFC')
    .split(/[^\p{L}\p{N}\p{M}]+/u)
    .filter(Boolean)
    .slice(0, 8)
    .map((word) => `"${word.slice(0, 40)}"*`);

/** All of them as one query: every word must be found in the same row. Null where no word was typed. */
export function wordsToMatch(typed: string): string | null {
  const words = searchWords(typed);
  return words.length === 0 ? null : words.join(' ');
}
