import { isDay, toEpochDay } from '../days.ts';
import { readRecords } from '../records/csv.ts';
import { readTyped } from '../settings/typed-number.ts';
import { fahrenheitToCelsius } from '../settings/units.ts';
import { type LogReading, MOST_READINGS } from './box-conductance.ts';

export interface ReadLog {
  readings: LogReading[];
  faults: { line: number; why: string }[];
  leftOut: number;
  /** Why nothing of it could be read. */
  refusal: string | null;
}

type Columns = { time: number; inside: number; outside: number; hoursEach: number; isFahrenheit: boolean };
const MOST_FAULTS = 20;

function columnsOf(header: readonly string[], isUs: boolean): Columns | string {
  const words = header.map((cell) => cell.trim().toLowerCase());
  const find = (pattern: RegExp) => words.findIndex((word) => pattern.test(word));
  const [time, inside, outside] = [
    find(/time|date|hour|minute|^min|^h$|elapsed/),
    find(/inside|^in\b|box/),
    find(/outside|^out\b|room|ambient|air/),
  ];
  if (time < 0) return 'No column of the first line is called time (or hours, or minutes).';
  if (inside < 0) return 'No column of the first line is called inside.';
  if (outside < 0) return 'No column of the first line is called outside.';
  const temps = `${words[inside]} ${words[outside]}`;
  const saysF = /°f|\(f\)|fahrenheit|[_ ]f\b/.test(temps);
  const saysC = /°c|\(c\)|celsius|[_ ]c\b/.test(temps);
  return {
    time,
    inside,
    outside,
    hoursEach: /min/.test(words[time] ?? '') ? 1 / 60 : 1,
    isFahrenheit: saysF || (isUs && !saysC),
  };
}

/** Hours of a time cell: a day with its time, a time of the day, or a number of hours or minutes. */
function hourOf(text: string, hoursEach: number): { hour: number; isClock: boolean } | null {
  const [, onDay, hours = '', minutes = '', seconds = '0'] =
    /^(?:(\d{4}-\d{2}-\d{2})[T ])?(\d{1,2}):(\d{2})(?::(\d{2})(?:\.\d+)?)?Z?$/.exec(text) ?? [];
  if (hours !== '') {
    if (Number(hours) > 23 || Number(minutes) > 59 || (onDay !== undefined && !isDay(onDay))) return null;
    const hour = Number(hours) + Number(minutes) / 60 + Number(seconds) / 3600;
    return onDay === undefined
      ? { hour, isClock: true }
      : { hour: 24 * toEpochDay(onDay) + hour, isClock: false };
  }
  const number = readTyped(text);
  return number === null ? null : { hour: number * hoursEach, isClock: false };
}

/**
 * The readings of a cooling log, as CSV or pasted from a spreadsheet, with a first line that names its columns: time,
 * inside, outside. Times are days with times (2026-11-25 14:30), times of the day (past midnight is the next day), or
 * numbers of hours or minutes, as the column's name says. Degrees are Fahrenheit where a column says so, or says nothing
 * and the business uses US units. Hours are counted from the first line. Lines that cannot be read are left out and
 * listed.
 *
 * Units: hours, degrees Celsius.
 *
 * @example readLog('minutes,inside,outside\n0,40,20\n30,38.5,20\n', false).readings[1] // hour 0.5, 38.5, 20
 */
export function readLog(text: string, isUs: boolean): ReadLog {
  const nothing = { readings: [], faults: [], leftOut: 0 };
  const plain = text.replace(/^\ufeff/, '').replace(/^\s+/, '');
  const first = plain.split(/\r?\n|\r/, 1)[0] ?? '';
  const delimiter = ['\t', ';', ','].find((one) => first.includes(one)) ?? ',';
  const [header, ...rows] = readRecords(plain, delimiter, MOST_READINGS + 2).records;
  if (!header || rows.length === 0) return { ...nothing, refusal: 'There are no readings in it.' };
  if (rows.length > MOST_READINGS)
    return { ...nothing, refusal: `At most ${MOST_READINGS} readings at once.` };
  const columns = columnsOf(header.cells, isUs);
  if (typeof columns === 'string') return { ...nothing, refusal: columns };
  const read: ReadLog = { ...nothing, readings: [], faults: [], refusal: null };
  let [begins, last, days] = [Number.NaN, Number.NEGATIVE_INFINITY, 0];
  for (const { line, cells } of rows) {
    const cell = (at: number) => (cells[at] ?? '').trim();
    const time = hourOf(cell(columns.time), columns.hoursEach);
    const temps = [columns.inside, columns.outside].map((at) => readTyped(cell(at)));
    const why =
      time === null
        ? 'the time cannot be read'
        : temps.some((temp) => temp === null)
          ? 'a temperature is missing'
          : null;
    if (why !== null || time === null) {
      read.leftOut += 1;
      if (read.faults.length < MOST_FAULTS) read.faults.push({ line, why: why ?? '' });
      continue;
    }
    if (time.isClock && time.hour + 24 * days < last) days += 1;
    const hour = time.hour + (time.isClock ? 24 * days : 0);
    if (Number.isNaN(begins)) begins = hour;
    last = hour;
    const [insideC = 0, outsideC = 0] = temps.map((temp) =>
      columns.isFahrenheit ? fahrenheitToCelsius(temp ?? 0) : (temp ?? 0),
    );
    read.readings.push({ hour: hour - begins, insideC, outsideC });
  }
  return read.readings.length === 0 ? { ...read, refusal: 'No line of it could be read.' } : read;
}
