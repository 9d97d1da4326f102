import { addDays } from '../../shared/days.ts';
import { instantInZone } from '../../shared/zone-instant.ts';
import type { StaffCall } from '../plumbing/call.ts';

/** Which rows of a record are looked for. */
export type RowsAsked = {
  /** A person's id; 'nobody' for what no person did. */
  who: string | null;
  /** Words of what it was done to, and of what was done. */
  subject: string | null;
  from: number | null;
  until: number | null;
  /** Only rows older than this one. */
  before: number | null;
};

function dayOf(text: string | undefined): string {
  if (!text || !/^\d{4}-\d{2}-\d{2}$/.test(text)) return '';
  const at = Date.parse(`${text}T00:00:00Z`);
  return Number.isNaN(at) || new Date(at).toISOString().slice(0, 10) !== text ? '' : text;
}

/** What the address asks for, as typed and as it is looked for; what cannot be understood is not asked for. */
export function askedOf({ query, business }: StaffCall) {
  const typed = {
    who: (query.who ?? '').slice(0, 100),
    subject: (query.subject ?? '').trim().slice(0, 100),
    from: dayOf(query.from),
    until: dayOf(query.until),
  };
  const before = /^[1-9]\d{0,14}$/.test(query.before ?? '') ? Number(query.before) : null;
  const asked: RowsAsked = {
    who: typed.who || null,
    subject: typed.subject || null,
    from: typed.from ? instantInZone(typed.from, 0, business.timeZone) : null,
    until: typed.until ? instantInZone(addDays(typed.until, 1), 0, business.timeZone) : null,
    before,
  };
  return { typed, asked };
}
