import type { Contact, ContactKind } from '../../shared/lines/form.ts';
import type { TraceFilter, Trouble } from '../../shared/traces/form.ts';
import { cultureHref } from '../cultures/page-list.tsx';
import { formatDay } from '../layout/format.ts';

export const troubleWords: Record<Trouble, string> = {
  mites: 'Mites',
  mould: 'Mould',
  'wrong species': 'A wrong species',
  'die-off': 'An unexplained die-off',
};

/** What happened, in a clause: "mites were seen". */
export const troubleSeen: Record<Trouble, string> = {
  mites: 'mites were seen',
  mould: 'mould was seen',
  'wrong species': 'a wrong species was seen',
  'die-off': 'many animals died',
};

/** A contact by itself, for a picture. */
export const contactWords: Record<ContactKind, string> = {
  split: 'split',
  seeding: 'old substrate',
  feeders: 'feeders',
  addition: 'animals put in',
  'shared tool': 'same tools',
  order: 'order',
};

const onward: Record<ContactKind, string> = {
  split: 'split off to',
  seeding: 'old substrate to',
  feeders: 'fed to',
  addition: 'animals to',
  'shared tool': 'same tools at',
  order: 'animals to order',
};

/** Steps at each end of a way that is too long to be told whole. */
const told = 3;

/** Writes days once each: the same day stands in hundreds of ways. The year is said when it is another than today's. */
export function dayWriter(today: string, locale?: string): (day: string) => string {
  const written = new Map<string, string>();
  return (day) => {
    let words = written.get(day);
    if (words === undefined) {
      words = formatDay(day, locale, day.slice(0, 4) === today.slice(0, 4) ? 'month-day' : 'short');
      written.set(day, words);
    }
    return words;
  };
}

/** A way in words: "fed to AM-003 on 12 Nov; then split off to AM-005 on 20 Nov". */
export function wayWords(way: readonly Contact[], day: (day: string) => string): string {
  const step = ({ kind, to, date }: Contact) => `${onward[kind]} ${to} on ${day(date)}`;
  if (way.length <= 2 * told + 1) return way.map(step).join('; then ');
  const between = `${way.length - 2 * told} more contacts`;
  return [...way.slice(0, told).map(step), between, ...way.slice(-told).map(step)].join('; then ');
}

/** The address of a trace, or of a page below it. */
export function traceHref(code: string, filter: Partial<TraceFilter> = {}, below = ''): string {
  const query = new URLSearchParams();
  for (const name of ['what', 'since', 'seen', 'back', 'sort'] as const) {
    const value = filter[name];
    if (value !== undefined && !(name === 'back' && value === '90') && !(name === 'sort' && value === 'day'))
      query.set(name, value);
  }
  const text = query.toString();
  return `${cultureHref(code)}/trace${below}${text === '' ? '' : `?${text}`}`;
}

/** Where contacts of a culture are written down and taken out. */
export const contactPath = (code: string) => `${cultureHref(code)}/contacts`;
