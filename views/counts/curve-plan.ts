import { scaleLinear } from 'd3-scale';
import { fromEpochDay, toEpochDay } from '../../shared/days.ts';

export type CurvePoint = { date: string; median: number; lower: number; upper: number };

export type CurveCount = {
  date: string;
  counted: number;
  impliedMedian: number;
  impliedLower: number;
  impliedUpper: number;
  /** How it was counted, in words: 'full count', 'visible count'. */
  method: string;
  /** The share of the animals that such a count sees, where it goes by one. */
  share?: { value: number; words: string };
};

export type CurveChange = { date: string; animals: number; label: string };

export type CurveData = {
  past: readonly CurvePoint[];
  ahead: readonly CurvePoint[];
  counts: readonly CurveCount[];
  removals: readonly CurveChange[];
  additions: readonly CurveChange[];
  dieOffs: readonly { date: string; label?: string }[];
  capacity: { median: number; lower: number; upper: number } | null;
  reserve: number | null;
  today: string;
};

/** The sheet a curve is drawn on. Text keeps its size, so a phone gets a sheet of its own, not a small copy. */
export type Sheet = { width: number; height: number; text: number };

export const deskSheet: Sheet = { width: 760, height: 340, text: 13 };
export const phoneSheet: Sheet = { width: 360, height: 330, text: 13 };

export type MonthTick = { x: number; label: string; year: string | null };

export type Plan = {
  sheet: Sheet;
  left: number;
  right: number;
  top: number;
  /** Where zero lies; under it the strip with what was taken out or put in, then the months. */
  bottom: number;
  strip: number;
  x: (date: string) => number;
  y: (animals: number) => number;
  yTicks: readonly number[];
  months: readonly MonthTick[];
};

/**
 * How far up the scale goes: all estimates, what was seen, and the capacity unless it is so far off that
 * the curve would lie flat on the ground. A hairline of a poor count may run out at the top.
 */
function topOf(data: CurveData): number {
  const estimates = [...data.past, ...data.ahead].map((point) => point.upper);
  const seen = data.counts.flatMap((count) => [count.counted, count.impliedMedian]);
  const most = Math.max(10, data.reserve ?? 0, ...estimates, ...seen);
  const capacity = data.capacity?.median ?? 0;
  return capacity <= 2.5 * most ? Math.max(most, capacity * 1.08) : most;
}

const monthSteps = [1, 2, 3, 6, 12, 24, 60];

function monthStarts(first: number, last: number, step: number): string[] {
  const starts: string[] = [];
  let year = Number(fromEpochDay(first).slice(0, 4));
  let month = 1;
  for (;;) {
    const start = `${String(year).padStart(4, '0')}-${String(month).padStart(2, '0')}-01`;
    const at = toEpochDay(start);
    if (at > last) return starts;
    if (at >= first) starts.push(start);
    month += step;
    year += Math.floor((month - 1) / 12);
    month = ((month - 1) % 12) + 1;
  }
}

/** Ticks at months' beginnings, as many as fit; the year stands under its first tick. */
function monthTicks(first: number, last: number, room: number, x: Plan['x'], locale: string): MonthTick[] {
  const format = new Intl.DateTimeFormat(locale, { month: 'short', timeZone: 'UTC' });
  const fits = Math.max(2, Math.floor(room / 48));
  const step = monthSteps.find((candidate) => (last - first) / 30.44 / candidate <= fits) ?? 60;
  let year = '';
  return monthStarts(first, last, step).map((start) => {
    const own = start.slice(0, 4);
    const isNew = own !== year;
    year = own;
    return { x: x(start), label: format.format(new Date(`${start}T00:00:00Z`)), year: isNew ? own : null };
  });
}

/** Lays a curve out on a sheet: scales, ticks and margins. Null when there is nothing to draw. */
export function planCurve(data: CurveData, sheet: Sheet, locale: string): Plan | null {
  const dates = [...data.past, ...data.ahead, ...data.counts].map((point) => toEpochDay(point.date));
  if (dates.length === 0) return null;
  const first = Math.min(...dates);
  const last = Math.max(first + 14, ...dates);
  const scaleY = scaleLinear()
    .domain([0, topOf(data)])
    .nice(5);
  const yTicks = scaleY.ticks(5).filter(Number.isInteger);
  const widest = Math.max(...yTicks.map((tick) => tick.toLocaleString(locale).length));
  const left = Math.round(14 + widest * sheet.text * 0.6);
  const right = sheet.width - 10;
  const top = sheet.text * 2.6;
  const bottom = sheet.height - sheet.text * 5;
  scaleY.range([bottom, top]).clamp(true);
  const scaleX = scaleLinear().domain([first, last]).range([left, right]).clamp(true);
  const round = (value: number) => Math.round(value * 10) / 10;
  const x = (date: string) => round(scaleX(toEpochDay(date)));
  const y = (animals: number) => round(scaleY(animals));
  const months = monthTicks(first, last, right - left, x, locale);
  return { sheet, left, right, top, bottom, strip: sheet.text * 1.7, x, y, yTicks, months };
}
