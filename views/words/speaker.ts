import { isDay } from '../../shared/days.ts';
import { isCountryCode } from '../../shared/settings/countries.ts';
import type { Language } from '../../shared/settings/languages.ts';
import { minorDigits } from '../../shared/settings/typed-money.ts';
import {
  formatLength,
  formatTemp,
  formatTempRange,
  formatVolume,
  type Rounding,
  type UnitSystem,
} from '../../shared/settings/units.ts';
import { turning } from '../../shared/text.ts';
import { dayInZone } from '../../shared/zone-day.ts';
import { de } from './de.ts';
import { type En, en, type Words } from './en.ts';
import { es } from './es.ts';

export const wordsIn: Record<Language, Words> = { en, de, es };

type Group = keyof En;
type EntriesOf<T> = {
  [G in Group]: { [K in keyof En[G]]: En[G][K] extends T ? `${G}.${K & string}` : never }[keyof En[G]];
}[Group];

/** What can be said, such as `care.title`. */
export type SayKey = EntriesOf<string>;
/** What is said of a number of things: it has a form for one and a form for many. */
export type CountKey = EntriesOf<{ one: string; other: string }>;

type EntryOf<K extends string> = K extends `${infer G extends Group}.${infer E}`
  ? E extends keyof En[G]
    ? En[G][E]
    : never
  : never;
/** The names that stand in curly brackets in an English entry. */
type SlotsOf<S> = S extends `${string}{${infer Name}}${infer Rest}` ? Name | SlotsOf<Rest> : never;
type SlotsOfCount<S> = S extends { one: infer A; other: infer B }
  ? Exclude<SlotsOf<A> | SlotsOf<B>, 'count'>
  : never;
type Filling<Names extends string> = [Names] extends [never] ? [] : [slots: Record<Names, string>];

export type SayArguments<K extends SayKey> = Filling<SlotsOf<EntryOf<K>>>;
export type CountArguments<K extends CountKey> = Filling<SlotsOfCount<EntryOf<K>>>;

/** Who is spoken to. */
export interface Listener {
  language: Language;
  /** BCP 47, such as `de-AT`: the decimal mark, the order of day and month. */
  locale: string;
}

const RIGHT_TO_LEFT = /[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc]/;

/**
 * A name from right to left is kept from turning what stands beside it (isolates, Unicode Standard Annex 9); signs that it
 * holds itself could end the isolate before its end.
 */
function kept(given: string): string {
  const said = given.replace(turning, '');
  return RIGHT_TO_LEFT.test(said) ? `\u2068${said}\u2069` : said;
}

/** Puts words into the curly brackets of an entry. A name nobody filled is a fault of the code, never of the data. */
function fill(entry: string, slots: Record<string, string>): string {
  return entry.replace(/\{(\w+)\}/g, (_whole, name: string) => {
    const given = slots[name];
    if (given === undefined) throw new Error(`nothing was given for {${name}} in “${entry}”`);
    return kept(given);
  });
}

function entryOf(language: Language, key: string): string | { one: string; other: string } {
  const [group = '', name = ''] = key.split('.');
  const groups: Record<string, Record<string, string | { one: string; other: string }>> = wordsIn[language];
  const entry = groups[group]?.[name];
  if (entry === undefined) throw new Error(`there is no entry ${key}`);
  return entry;
}

/** Speaks one language to one reader: entries of the words files, numbers, days and measures. */
export class Speaker {
  readonly language: Language;
  readonly locale: string;
  private readonly formatters: Partial<Record<'long' | 'short', Intl.DateTimeFormat>> = {};

  constructor({ language, locale }: Listener) {
    this.language = language;
    this.locale = locale;
  }

  /** `say('care.packed', { day })` */
  say<K extends SayKey>(key: K, ...[slots]: SayArguments<K>): string {
    const entry = entryOf(this.language, key);
    return typeof entry === 'string' ? fill(entry, slots ?? {}) : '';
  }

  /** `counted('care.animals', 3)`: the form that the language has for the number, which fills `{count}`. */
  counted<K extends CountKey>(key: K, count: number, ...[slots]: CountArguments<K>): string {
    const entry = entryOf(this.language, key);
    if (typeof entry === 'string') return '';
    // "many" (Spanish, from a million on) takes the form for other numbers
    const form = new Intl.PluralRules(this.language).select(count) === 'one' ? 'one' : 'other';
    return fill(entry[form], { ...slots, count: this.number(count) });
  }

  number(value: number, places = 0): string {
    return new Intl.NumberFormat(this.locale, { maximumFractionDigits: places }).format(value);
  }

  /** Making a formatter takes far longer than formatting. */
  private days(length: 'long' | 'short'): Intl.DateTimeFormat {
    this.formatters[length] ??= new Intl.DateTimeFormat(this.language, {
      weekday: length,
      month: length,
      day: 'numeric',
      timeZone: 'UTC',
    });
    return this.formatters[length];
  }

  /** A day string in words: `Wednesday 11 November 2026`, short `Wed 11 Nov 2026`. What is no day stands as it is. */
  day(day: string, length: 'long' | 'short' = 'long'): string {
    if (!isDay(day)) return day;
    const at = new Date(`${day}T00:00:00Z`);
    const parts = this.days(length).formatToParts(at);
    const name = (part: 'weekday' | 'month') => parts.find(({ type }) => type === part)?.value ?? '';
    const inAmerica = this.locale === 'en-US';
    const entry = entryOf(this.language, inAmerica ? `dates.${length}InAmerica` : `dates.${length}`);
    return fill(String(entry), {
      weekday: name('weekday'),
      month: name('month'),
      date: String(at.getUTCDate()),
      year: day.slice(0, 4),
    });
  }

  /** The day and the time of an instant where the business is: `Wednesday 11 November 2026, 14:05`. */
  moment(atMs: number, timeZone: string, length: 'long' | 'short' = 'long'): string {
    const time = new Intl.DateTimeFormat(this.locale, { hour: '2-digit', minute: '2-digit', timeZone });
    // engines differ in the kind of space before "pm"
    return `${this.day(dayInZone(atMs, timeZone), length)}, ${time.format(atMs).replace(/\s/g, '\u00a0')}`;
  }

  /** An amount in minor units of its currency, such as 1250 of EUR: `12,50 €`. */
  money(minor: number, currency: string): string {
    const amount = minor / 10 ** minorDigits(currency);
    return new Intl.NumberFormat(this.locale, { style: 'currency', currency })
      .format(amount)
      .replace(/\s/g, '\u00a0');
  }

  /** A country's name by its two letters. */
  country(code: string): string {
    return isCountryCode(code)
      ? (new Intl.DisplayNames(this.language, { type: 'region' }).of(code) ?? code)
      : code;
  }

  temp(tempC: number, units: UnitSystem, rounding: Rounding = 'nearest'): string {
    return formatTemp(tempC, units, this.locale, rounding);
  }

  temps(lowC: number, highC: number, units: UnitSystem): string {
    return formatTempRange(lowC, highC, units, this.locale, wordsIn[this.language].units);
  }

  length(lengthMm: number, units: UnitSystem): string {
    return formatLength(lengthMm, units, this.locale, wordsIn[this.language].units);
  }

  volume(litres: number, units: UnitSystem): string {
    return formatVolume(litres, units, this.locale, wordsIn[this.language].units);
  }
}

const speakers = new Map<string, Speaker>();

/** The speaker for a reader; made once and kept. */
export function speakerFor({ language, locale }: Listener): Speaker {
  const key = `${language} ${locale}`;
  const known = speakers.get(key);
  if (known) return known;
  // locales are few; this only keeps a made-up one from filling the memory
  if (speakers.size > 500) speakers.clear();
  const made = new Speaker({ language, locale });
  speakers.set(key, made);
  return made;
}
