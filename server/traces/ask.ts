import { isDay } from '../../shared/days.ts';
import { type TraceFilter, type Trouble, traceFilter, troubles } from '../../shared/traces/form.ts';
import { clearBefore, sighting } from '../../shared/traces/sighting.ts';
import { dayFault } from '../../views/cultures/say.ts';
import { readEstimate } from '../counts/queries-estimate.ts';
import type { Culture } from '../cultures/queries.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { looksFor } from './queries.ts';

/** A trace as it is asked for: every question of the address answered, from the diary where it was left open. */
export type Asked = Required<TraceFilter> & {
  /** When it was first seen by the diary, and last not; null where the diary tells nothing. */
  noted: { seenOn: string | null; clearOn: string | null };
};

const notADay = 'Write a day of the calendar, such as 2026-11-30.';

function likelyTrouble(call: StaffCall, culture: Culture): Trouble {
  const health = readEstimate(call.db, culture.id)?.health;
  return troubles.find((trouble) => trouble === health) ?? 'mites';
}

/** Reads what is asked for, from the address or from a form that carries the same fields, and what is wrong with it. */
export function readAsked(
  call: StaffCall,
  culture: Culture,
  fields: unknown = call.query,
): { asked: Asked; errors: Record<string, string> } {
  const { db, today, business } = call;
  const filter = traceFilter.parse(fields);
  const what = filter.what ?? likelyTrouble(call, culture);
  const askedDay = filter.seen && isDay(filter.seen) ? filter.seen : null;
  const days = askedDay === null ? [today] : [today, askedDay];
  const looks = looksFor(db, { cultureId: culture.id, what }, days);
  const noted = sighting(looks, today);
  const seen = filter.seen || noted.seenOn || today;
  const clearOn = askedDay === null ? noted.clearOn : clearBefore(looks, askedDay);
  const since = filter.since || clearOn || culture.foundedOn;
  const errors: Record<string, string> = {};
  for (const [name, day] of [
    ['seen', seen],
    ['since', since],
  ] as const) {
    const wrong = isDay(day) ? dayFault(culture, day, today, business.locale) : notADay;
    if (wrong) errors[name] = wrong;
  }
  if (!errors.seen && !errors.since && since > seen)
    errors.since = 'This is after the day on which it was seen.';
  return { asked: { ...filter, what, since, seen, noted }, errors };
}
