import { kindWords } from '../cultures/entry-words.ts';
import { formatCount, formatDay } from '../layout/format.ts';

/** What an import brought, in numbers. */
export type BroughtData = {
  kinds: { kind: string; entries: number }[];
  days: { first: string | null; last: string | null };
  made: { cultures: number; species: number; enclosures: number; places: number; lines: number };
};

/** What was made besides the diary: "71 cultures, 7 species, 24 places". */
export function madeWords({ made }: BroughtData, locale?: string): string {
  return [
    made.cultures > 0 && formatCount(made.cultures, 'culture', 'cultures', locale),
    made.species > 0 && `${made.species} species`,
    made.lines > 0 && formatCount(made.lines, 'line', 'lines', locale),
    made.enclosures > 0 && formatCount(made.enclosures, 'enclosure', 'enclosures', locale),
    made.places > 0 && formatCount(made.places, 'place', 'places', locale),
  ]
    .filter(Boolean)
    .join(', ');
}

/** The entries by kind: "3,118 checks ..." in the words of the diary. */
export function kindsWords({ kinds }: BroughtData, locale?: string): string {
  return kinds
    .map(({ kind, entries }) => `${kindWords[kind] ?? kind} ${formatCount(entries, 'time', 'times', locale)}`)
    .join(', ');
}

export function daysWords({ days }: BroughtData, locale?: string): string {
  return days.first && days.last ? `${formatDay(days.first, locale)} to ${formatDay(days.last, locale)}` : '';
}
