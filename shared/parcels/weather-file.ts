import { type Day, isDay } from '../days.ts';
import { readRecords } from '../records/csv.ts';
import { readTyped } from '../settings/typed-number.ts';
import { fahrenheitToCelsius } from '../settings/units.ts';
import { tidyLine } from '../text.ts';

export interface WeatherRow {
  line: number;
  /** The place's name where the file has a column for it. */
  place: string | null;
  date: Day;
  minC: number;
  maxC: number;
}

export interface ReadWeather {
  rows: WeatherRow[];
  faults: { line: number; why: string }[];
  leftOut: number;
  refusal: string | null;
}

const MOST_ROWS = 5_000;
const MOST_FAULTS = 20;

type Columns = { place: number; date: number; low: number; high: number; isFahrenheit: boolean };

function columnsOf(header: readonly string[], isUs: boolean): Columns | string {
  const words = header.map((cell) => cell.trim().toLowerCase());
  const find = (pattern: RegExp) => words.findIndex((word) => pattern.test(word));
  const [date, low, high] = [find(/date|day/), find(/low|min/), find(/high|max/)];
  if (date < 0) return 'No column of the first line is called date.';
  if (low < 0) return 'No column of the first line is called low.';
  if (high < 0) return 'No column of the first line is called high.';
  const temps = `${words[low]} ${words[high]}`;
  const saysF = /°f|\(f\)|fahrenheit|[_ ]f\b/.test(temps);
  const saysC = /°c|\(c\)|celsius|[_ ]c\b/.test(temps);
  return { place: find(/place|town|name/), date, low, high, isFahrenheit: saysF || (isUs && !saysC) };
}

function readRow(cells: readonly string[], line: number, columns: Columns): WeatherRow | string {
  const cell = (at: number) => (cells[at] ?? '').trim();
  const date = cell(columns.date);
  if (!isDay(date)) return 'the day is not written as 2026-11-25';
  const [low, high] = [readTyped(cell(columns.low)), readTyped(cell(columns.high))];
  if (low === null || high === null) return 'a temperature is missing';
  const [minC, maxC] = [low, high].map((temp) =>
    columns.isFahrenheit ? fahrenheitToCelsius(temp) : temp,
  ) as [number, number];
  if (!(minC >= -50 && maxC <= 70)) return 'no place has such a temperature';
  if (minC > maxC) return 'the low is above the high';
  const place = columns.place < 0 ? null : tidyLine(cell(columns.place));
  return { line, place, date, minC, maxC };
}

/**
 * Lows and highs by day from a CSV file whose first line names its columns: date, low, high, and place where it tells of
 * several. Degrees are Fahrenheit where a column says so, or says nothing and the business uses US units. Lines that
 * cannot be read are left out and listed.
 *
 * Units: degrees Celsius.
 *
 * @example readWeather('date,low,high\n2026-11-25,3,9\n', false).rows[0] // { date: '2026-11-25', minC: 3, maxC: 9, ... }
 */
export function readWeather(text: string, isUs: boolean): ReadWeather {
  const nothing = { rows: [], faults: [], leftOut: 0 };
  const plain = text.replace(/^\ufeff/, '');
  const first = plain.split(/\r?\n|\r/, 1)[0] ?? '';
  const delimiter = [';', '\t', ','].find((one) => first.includes(one)) ?? ',';
  const [header, ...records] = readRecords(plain, delimiter, MOST_ROWS + 2).records;
  if (!header || records.length === 0) return { ...nothing, refusal: 'The file holds no days.' };
  if (records.length > MOST_ROWS) return { ...nothing, refusal: `At most ${MOST_ROWS} lines at once.` };
  const columns = columnsOf(header.cells, isUs);
  if (typeof columns === 'string') return { ...nothing, refusal: columns };
  const read: ReadWeather = { rows: [], faults: [], leftOut: 0, refusal: null };
  for (const { line, cells } of records) {
    const row = readRow(cells, line, columns);
    if (typeof row !== 'string') read.rows.push(row);
    else {
      read.leftOut += 1;
      if (read.faults.length < MOST_FAULTS) read.faults.push({ line, why: row });
    }
  }
  return read.rows.length === 0 ? { ...read, refusal: 'No line of the file could be read.' } : read;
}
