import { dayInZone } from '../zone-day.ts';

const msPerHour = 3_600_000;

/** The nightly backup belongs to the business's day from two in the morning on, when nobody works. */
const nightEndsHours = 2;
/** After one that failed the next try waits this long: a full disk is not helped by trying all the time. */
const againAfterMs = msPerHour;
/** A newest proof older than this is said on every page of the owner's. */
const provenAtLeastEveryMs = 36 * msPerHour;

/**
 * Whether the nightly backup is due: none has been made on this day of the business. By days, not by hours, so that it
 * is one a day whatever the clock does in the nights of summer time.
 *
 * @param o.lastMadeAt instant of the newest nightly backup, null where there is none
 * @param o.lastFailedAt instant of the newest try that failed, null where none did since
 * @example isNightlyDue({ now: Date.UTC(2026, 0, 2, 3), timeZone: 'UTC', lastMadeAt: Date.UTC(2026, 0, 1, 3), lastFailedAt: null }) // true
 */
export function isNightlyDue(o: {
  now: number;
  timeZone: string;
  lastMadeAt: number | null;
  lastFailedAt: number | null;
}): boolean {
  const dayOf = (at: number) => dayInZone(at - nightEndsHours * msPerHour, o.timeZone);
  if (o.lastFailedAt !== null && o.now >= o.lastFailedAt && o.now - o.lastFailedAt < againAfterMs)
    return false;
  if (o.lastMadeAt === null || isFromTheFuture(o.lastMadeAt, o.now)) return true;
  return dayOf(o.lastMadeAt) < dayOf(o.now);
}

/** What a clock that was far ahead left behind says nothing about now; it is passed over until its time has come. */
export const isFromTheFuture = (at: number, now: number) => at - now > provenAtLeastEveryMs;

/** Whether the owner must be told that no backup has been proven for too long. */
export const isProofLate = (lastProvenAt: number | null, now: number) =>
  lastProvenAt === null || Math.abs(now - lastProvenAt) > provenAtLeastEveryMs;
