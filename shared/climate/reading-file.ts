import { isDay } from '../days.ts';
import { readRecords } from '../records/csv.ts';
import { readTyped } from '../settings/typed-number.ts';
import { fahrenheitToCelsius } from '../settings/units.ts';
import { instantInZone } from '../zone-instant.ts';
import { COLDEST_C, WARMEST_C } from './vapour.ts';

/** Half a year of a reading every ten minutes. */
const MOST_ROWS = 30_000;
const MOST_FAULTS = 20;

export interface FileReading {
  at: number;
  tempC: number;
  humidityPct: number | null;
}

export interface ReadFile {
  readings: FileReading[];
  /** Rows that were left out: their line in the file and why. */
  faults: { line: number; why: string }[];
  leftOut: number;
  /** Why nothing of the file could be read. */
  refusal: string | null;
}

type Columns = { time: number; temp: number; humidity: number | null; isFahrenheit: boolean };

function columnsOf(header: readonly string[], isUs: boolean): Columns | string {
  const find = (pattern: RegExp) => header.findIndex((cell) => pattern.test(cell.trim().toLowerCase()));
  const time = find(/time|date|^at$|when/);
  const temp = find(/temp|°c|°f/);
  const humidity = find(/humid|^rh|%/);
  if (time < 0) return 'No column of the first line is called time or date.';
  if (temp < 0) return 'No column of the first line is called temperature.';
  const word = header[temp]?.toLowerCase() ?? '';
  const saysF = /°f|\(f\)|fahrenheit|[_ ]f$|tempf/.test(word);
  const saysC = /°c|\(c\)|celsius|[_ ]c$|tempc/.test(word);
  return { time, temp, humidity: humidity < 0 ? null : humidity, isFahrenheit: saysF || (isUs && !saysC) };
}

/** '2026-11-25 14:30', with seconds and a zone or without: without one it is the business's clock. */
function instantOf(text: string, timeZone: string): number | null {
  const found =
    /^(\d{4}-\d{2}-\d{2})(?:[T ](\d{2}):(\d{2})(?::\d{2}(?:\.\d+)?)?\s*(Z|[+-]\d{2}:?\d{2})?)?$/.exec(text);
  const [, onDay = '', hour = '12', minute = '00', zone] = found ?? [];
  if (!found || !isDay(onDay) || Number(hour) > 23 || Number(minute) > 59) return null;
  if (zone === undefined) return instantInZone(onDay, Number(hour) * 60 + Number(minute), timeZone);
  const [, sign = '+', hours = '0', minutes = '0'] = /^([+-])(\d{2}):?(\d{2})$/.exec(zone) ?? [];
  const offset = (Number(hours) * 60 + Number(minutes)) * (sign === '-' ? -1 : 1);
  return instantInZone(onDay, Number(hour) * 60 + Number(minute), 'UTC') - offset * 60_000;
}

function readRow(
  cells: readonly string[],
  columns: Columns,
  timeZone: string,
  now: number,
): FileReading | string {
  const cell = (at: number) => (cells[at] ?? '').trim();
  const at = instantOf(cell(columns.time), timeZone);
  if (at === null) return 'the time is not written as 2026-11-25 14:30';
  if (at > now) return 'the time is still to come';
  const typed = readTyped(cell(columns.temp));
  if (typed === null) return 'there is no temperature';
  const tempC = columns.isFahrenheit ? fahrenheitToCelsius(typed) : typed;
  if (!(tempC >= COLDEST_C && tempC <= WARMEST_C)) return 'no room has such a temperature';
  const text = columns.humidity === null ? '' : cell(columns.humidity).replace('%', '');
  const humidityPct = text === '' ? null : readTyped(text);
  if (text !== '' && !(humidityPct !== null && humidityPct >= 0 && humidityPct <= 100))
    return 'the humidity is not between 0 and 100';
  return { at, tempC, humidityPct };
}

/**
 * The readings of a CSV file with a first line that names its columns: time (or date), temperature, humidity. Times
 * are ISO 8601; without a zone they are the clock of the business. Degrees are Fahrenheit where the column says so, or
 * says nothing and the business uses US units. Rows that cannot be read are left out and listed.
 *
 * Units: milliseconds UTC, degrees Celsius, percent.
 *
 * @example readReadings('time,temperature\n2026-11-25 12:00,21.5\n', { timeZone: 'Europe/Berlin', isUs: false, now })
 */
export function readReadings(
  text: string,
  { timeZone, isUs, now }: { timeZone: string; isUs: boolean; now: number },
): ReadFile {
  const nothing = { readings: [], faults: [], leftOut: 0 };
  const plain = text.replace(/^\ufeff/, '');
  const first = plain.split(/\r?\n|\r/, 1)[0] ?? '';
  const delimiter = [';', '\t', ','].find((one) => first.includes(one)) ?? ',';
  const [header, ...rows] = readRecords(plain, delimiter, MOST_ROWS + 2).records;
  if (!header || rows.length === 0) return { ...nothing, refusal: 'The file holds no readings.' };
  if (rows.length > MOST_ROWS) return { ...nothing, refusal: `At most ${MOST_ROWS} readings at once.` };
  const columns = columnsOf(header.cells, isUs);
  if (typeof columns === 'string') return { ...nothing, refusal: columns };
  const readings: FileReading[] = [];
  const faults: ReadFile['faults'] = [];
  let leftOut = 0;
  for (const { line, cells } of rows) {
    const row = readRow(cells, columns, timeZone, now);
    if (typeof row !== 'string') readings.push(row);
    else {
      leftOut += 1;
      if (faults.length < MOST_FAULTS) faults.push({ line, why: row });
    }
  }
  return { readings, faults, leftOut, refusal: null };
}
