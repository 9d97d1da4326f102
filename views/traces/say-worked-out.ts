import { addDays, daysBetween } from '../../shared/days.ts';
import { backDays, type TraceFilter } from '../../shared/traces/form.ts';
import { formatCount, formatNumber } from '../layout/format.ts';
import type { TracedRowData } from './part-cultures.tsx';
import { dayWriter } from './say.ts';

type Traced = {
  code: string;
  asked: Pick<TraceFilter, 'back'> & { since: string; seen: string };
  found: { downstream: readonly TracedRowData[]; upstream: readonly TracedRowData[] } | null;
  today: string;
};

/** More ways than these are no help to anybody who checks them; each stands in its row too. */
const mostListed = 20;

type Writer = (day: string) => string;

/** From which day on it is looked for where something came from, and why from then. */
function sayBack({ since, seen, back }: Traced['asked'], day: Writer): string {
  const days = backDays[back];
  if (days === null) return ', as far back as any is written down';
  const from = addDays(seen, -days);
  const words = formatNumber(days);
  return since < from
    ? `, and from ${day(since)} on, since when it is taken to be there: more than ${words} days before it was seen`
    : `, and from ${day(from)} on, ${words} days before it was seen`;
}

/** The days within which contacts count. */
function sayWindows({ code, asked, today }: Traced, day: Writer): string[] {
  const { since, seen } = asked;
  const days = formatCount(daysBetween(since, today) + 1, 'day');
  return [
    `Gone on from ${code}: contacts from ${day(since)} until ${day(today)}, ${days} with both ends.`,
    `Come to ${code}: contacts up to ${day(seen)}${sayBack(asked, day)}.`,
  ];
}

/** Each contact of a way comes no earlier than the one before: "3 Nov ≤ 12 Nov to AM-3 ≤ 20 Nov to AM-5". */
function sayReached(since: string, { code, onDay, way }: TracedRowData, day: Writer): string {
  const steps = way.map(({ to, date }) => ` ≤ ${day(date)} to ${to}`).join('');
  return `${code}: ${day(since)}${steps}, so first on ${day(onDay)}, by ${formatCount(way.length, 'contact')}.`;
}

function saySource(seen: string, { code, onDay, way }: TracedRowData, day: Writer): string {
  const steps = way.map(({ to, date }) => `${day(date)} to ${to} ≤ `).join('');
  return `${code}: ${steps}${day(seen)} seen, so last on ${day(onDay)}, by ${formatCount(way.length, 'contact')}.`;
}

/** Who can have been reached and from whom it can have come, contact by contact. */
export function sayTrace(traced: Traced, locale?: string): string[] {
  const { asked, found, today } = traced;
  if (!found) return [];
  const day = dayWriter(today, locale);
  const { downstream, upstream } = found;
  return [
    ...sayWindows(traced, day),
    ...downstream.slice(0, mostListed).map((row) => sayReached(asked.since, row, day)),
    ...upstream.slice(0, mostListed).map((row) => saySource(asked.seen, row, day)),
  ];
}
