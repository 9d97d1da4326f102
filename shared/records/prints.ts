import { codeForm } from './codes.ts';
import type { CultureRow, Entry, Prints } from './entries.ts';

/**
 * Numbers rows that are the same, so that a thing done twice on one day stays two things, and the same file brought
 * in again stays the same two.
 */
export class Occurrences {
  private readonly seen = new Map<string, number>();

  next(text: string): number {
    const occurrence = (this.seen.get(text) ?? 0) + 1;
    this.seen.set(text, occurrence);
    return occurrence;
  }
}

/**
 * What a diary entry means as one text, the same whichever way it was written down.
 *
 * @example diaryContent({ code: 'PO-020', on: '2026-03-08', by: null, entry })
 */
export function diaryContent(row: { code: string; on: string; by: string | null; entry: Entry }): string {
  return JSON.stringify(['diary', codeForm(row.code), row.on, row.by ?? '', sorted(fact(row.entry))]);
}

/** What was believed of the share that shows is no part of what was seen. */
function fact(entry: Entry): Entry {
  if (entry.kind !== 'count' || entry.count.method !== 'visible') return entry;
  return { ...entry, count: { method: 'visible', counted: entry.count.counted } };
}

/** What a culture is as one text. A code is one culture for ever, so the code alone says which. */
export function cultureContent(row: Pick<CultureRow, 'code'>): string {
  return JSON.stringify(['culture', codeForm(row.code)]);
}

/** The two texts of a row, each with the number of its occurrence. */
export function numbered(content: string, source: string, occurrences: Occurrences): Prints {
  return {
    content: `${content}#${occurrences.next(`content ${content}`)}`,
    source: `${source}#${occurrences.next(`source ${source}`)}`,
  };
}

/** The same value with its keys in order, and without those that are null: not told is not told. */
function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (typeof value !== 'object' || value === null) return value;
  return Object.entries(value)
    .filter(([, inner]) => inner !== null && inner !== undefined)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([key, inner]) => [key, sorted(inner)]);
}
