import { fromEpochDay, isDay, toEpochDay } from '../days.ts';

export type DateOrder = 'dmy' | 'mdy';
export type SerialStart = '1900' | '1904';

/** How the dates of one column are written. null: not known, so what depends on it is not understood. */
export interface DateForm {
  order: DateOrder | null;
  /** The day numbers of a spreadsheet, only where the person says that the column holds them. */
  serial: SerialStart | null;
}

export type DateFault =
  | 'date-missing'
  | 'date-not-understood'
  | 'date-impossible'
  | 'date-ambiguous'
  | 'date-too-old';

export type DateReading =
  | { on: string; twoDigitYear: boolean; timeLeft: boolean }
  | { fault: DateFault; reason: string };

/** What the dates of a column say about the order of day and month. */
export interface DateEvidence {
  dayFirst: number;
  monthFirst: number;
  /** Could be either: both numbers are 12 or less, and they differ. */
  undecided: number;
  examples: string[];
  serials: number;
  filled: number;
  /** The order that all evidence agrees on; null where there is none, or where it contradicts itself. */
  order: DateOrder | null;
}

const YEAR_FIRST = /^(\d{4})([-/.])(\d{1,2})\2(\d{1,2})$/;
const COMPACT = /^((?:19|20)\d{2})(\d{2})(\d{2})$/;
const NUMBERS = /^(\d{1,2})([-/.])(\d{1,2})\2(\d{4}|\d{2})$/;
const DAY_NAME_YEAR =
  /^(\d{1,2})(?:st|nd|rd|th|\.| de)?[\s\-/.]?(\p{L}{3,10})\.?,?(?: de)?[\s\-/.]?'?(\d{4}|\d{2})$/u;
const NAME_DAY_YEAR = /^([a-z]{3,9})\.?[\s\-/.]?(\d{1,2})(?:st|nd|rd|th)?,?[\s\-/.]'?(\d{4}|\d{2})$/;
const WEEKDAY =
  /^(?:(?:mon|tues?|wed(?:nes)?|thu(?:rs)?|fri|sat(?:ur)?|sun)(?:day)?|(?:mon|diens|donners|frei|sams|sonn)tag|mittwoch|mo|di|mi|do|fr|sa|so|lunes|martes|miércoles|jueves|viernes|sábado|domingo)\.?,?\s+(?=\S)/;
const TIME = /[t\s]\d{1,2}:\d{2}(?::\d{2}(?:[.,]\d{1,9})?)?\s?(?:[ap]\.?m\.?)?\s?(?:z|[+-]\d{2}:?\d{2})?$/;
const SERIAL = /^\d{5}(?:[.,]\d{1,12})?$/;
// English, German, also as in Austria, and Spanish; a word is known by three letters or more of it.
const MONTHS = [
  ['january', 'januar', 'jänner', 'enero'],
  ['february', 'februar', 'feber', 'febrero'],
  ['march', 'märz', 'mrz', 'marzo'],
  ['april', 'abril'],
  ['may', 'mai', 'mayo'],
  ['june', 'juni', 'junio'],
  ['july', 'juli', 'julio'],
  ['august', 'agosto'],
  ['september', 'septiembre'],
  ['october', 'oktober', 'octubre'],
  ['november', 'noviembre'],
  ['december', 'dezember', 'diciembre'],
];
const OLDEST_YEAR = 1950;
const LONGEST = 40;

/**
 * The day that a cell names: year first (ISO 8601), day/month/year or month/day/year as the form says, with dots
 * always day first, with the month's name in English, German or Spanish, or a spreadsheet's day number where the form says so. A year
 * of two digits is taken as 20yy; a time of day after the date is left out, and both are told.
 *
 * @example readDate('7 Mar 25', { order: null, serial: null }) // on 2025-03-07, twoDigitYear
 */
export function readDate(cell: string, form: DateForm): DateReading {
  const text = tidy(cell);
  if (text === '') return { fault: 'date-missing', reason: 'There is no date.' };
  const bare = withoutTime(text);
  const timeLeft = bare !== text;
  const parts = parse(bare, form);
  if (parts === null) {
    return { fault: 'date-not-understood', reason: `“${short(cell)}” is not understood as a date.` };
  }
  if (parts === 'ambiguous') {
    return { fault: 'date-ambiguous', reason: `“${short(cell)}” can be read day first or month first.` };
  }
  const year = parts.year < 100 ? 2000 + parts.year : parts.year;
  const on = `${pad(year, 4)}-${pad(parts.month, 2)}-${pad(parts.day, 2)}`;
  if (!isDay(on)) {
    return { fault: 'date-impossible', reason: `“${short(cell)}” is no day of the calendar.` };
  }
  if (year < OLDEST_YEAR) return { fault: 'date-too-old', reason: `${on} is before ${OLDEST_YEAR}.` };
  return { on, twoDigitYear: parts.year < 100, timeLeft: timeLeft || parts.timeLeft === true };
}

/**
 * Looks through a column for what decides the order of day and month: any number above 12.
 *
 * @example dateEvidence(['03/04/2026', '13/04/2026']).order // 'dmy'
 */
export function dateEvidence(cells: Iterable<string>): DateEvidence {
  const seen: DateEvidence = {
    dayFirst: 0,
    monthFirst: 0,
    undecided: 0,
    examples: [],
    serials: 0,
    filled: 0,
    order: null,
  };
  for (const cell of cells) {
    const text = withoutTime(tidy(cell));
    if (text === '') continue;
    seen.filled += 1;
    if (SERIAL.test(text)) seen.serials += 1;
    const match = NUMBERS.exec(text);
    if (!match || match[2] === '.') continue;
    const [first, second] = [Number(match[1]), Number(match[3])];
    if (first > 12 && second <= 12) seen.dayFirst += 1;
    else if (second > 12 && first <= 12) seen.monthFirst += 1;
    else if (first <= 12 && second <= 12 && first !== second) {
      seen.undecided += 1;
      if (seen.examples.length < 3) seen.examples.push(cell.trim());
    }
  }
  if (seen.dayFirst > 0 && seen.monthFirst === 0) seen.order = 'dmy';
  if (seen.monthFirst > 0 && seen.dayFirst === 0) seen.order = 'mdy';
  return seen;
}

/** Whether a cell looks like a date in any of the forms, for guessing what a column holds. */
export function looksLikeDate(cell: string): boolean {
  const parts = parse(withoutTime(tidy(cell)), { order: 'dmy', serial: null });
  return parts !== null;
}

interface Parts {
  year: number;
  month: number;
  day: number;
  timeLeft?: boolean;
}

function parse(text: string, form: DateForm): Parts | 'ambiguous' | null {
  if (text.length > LONGEST) return null;
  const iso = YEAR_FIRST.exec(text);
  if (iso) return { year: Number(iso[1]), month: Number(iso[3]), day: Number(iso[4]) };
  const numbers = NUMBERS.exec(text);
  if (numbers) return inOrder(numbers, form.order);
  const named = DAY_NAME_YEAR.exec(text);
  if (named) return withName(named[2]!, named[1]!, named[3]!);
  const nameFirst = NAME_DAY_YEAR.exec(text);
  if (nameFirst) return withName(nameFirst[1]!, nameFirst[2]!, nameFirst[3]!);
  if (form.serial && SERIAL.test(text)) return fromSerial(text, form.serial);
  const compact = COMPACT.exec(text);
  if (compact) return { year: Number(compact[1]), month: Number(compact[2]), day: Number(compact[3]) };
  return null;
}

function inOrder(match: RegExpExecArray, order: DateOrder | null): Parts | 'ambiguous' {
  const [first, second] = [Number(match[1]), Number(match[3])];
  const year = Number(match[4]);
  // Dots are written day first wherever they are in use; and 5/5 is the same day either way.
  const settled = match[2] === '.' || first === second ? 'dmy' : order;
  if (settled === null) return 'ambiguous';
  return settled === 'dmy' ? { year, month: second, day: first } : { year, month: first, day: second };
}

function withName(name: string, day: string, year: string): Parts | null {
  const month = MONTHS.findIndex((words) => words.some((word) => word.startsWith(name))) + 1;
  if (month === 0) return null;
  return { year: Number(year), month, day: Number(day) };
}

function fromSerial(text: string, start: SerialStart): Parts {
  const [whole, rest] = text.split(/[.,]/);
  // The 1900 count holds a 29 February 1900 that never was, so its days since then are counted from 30 December 1899.
  const epoch = toEpochDay(start === '1900' ? '1899-12-30' : '1904-01-01');
  const [year, month, day] = fromEpochDay(epoch + Number(whole))
    .split('-')
    .map(Number);
  return { year: year!, month: month!, day: day!, timeLeft: rest !== undefined };
}

function tidy(cell: string): string {
  if (cell.length > 4 * LONGEST) return cell.slice(0, 4 * LONGEST);
  return cell.normalize('NFKC').trim().replace(/\s+/g, ' ').toLowerCase().replace(WEEKDAY, '');
}

function withoutTime(text: string): string {
  return text.replace(TIME, '').trim();
}

function pad(value: number, width: number): string {
  return String(value).padStart(width, '0');
}

function short(cell: string): string {
  const text = cell.trim();
  return text.length > LONGEST ? `${text.slice(0, LONGEST)}…` : text;
}
