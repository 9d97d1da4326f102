import ical, { ICalEventTransparency } from 'ical-generator';
import { groupWork, type Work } from '../../shared/calendar/group-work.ts';
import { addDays, type Day } from '../../shared/days.ts';
import {
  packingDetails,
  packingTitle,
  planDetails,
  planTitle,
  workDetails,
  workTitle,
} from '../../views/calendar/say-calendar.ts';
import { workAhead } from '../checks/queries-ahead.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { openPlans } from '../splits/queries-plans.ts';
import { lastWritten, packingDays, type Room, roomsByCulture } from './queries.ts';

/** What is due further ahead changes with the next look anyway; what people plan does not. */
const workDays = 14;
const planDays = 60;

export type Entry = {
  /** Stays the same while the entry is about the same thing; unique at this business. */
  key: string;
  onDay: Day;
  title: string;
  details: string;
  place: string | null;
  path: string;
  changedAt: number;
};

export type About = Pick<StaffCall, 'db' | 'today' | 'business'>;

function workEntries(about: About): Entry[] {
  const { db, business } = about;
  const rooms = roomsByCulture(db);
  const changedAt = Math.max(business.madeAt, lastWritten(db));
  const work = workAhead(about, workDays).map(
    ({ cultureId, ...one }): Work<Room> => ({ ...one, room: rooms.get(cultureId) ?? null }),
  );
  return groupWork(work).map(({ onDay, room, kinds }) => ({
    key: `work-${onDay}-${room?.id ?? 'none'}`,
    onDay,
    title: workTitle(kinds, business.locale),
    details: workDetails(kinds, business.locale),
    place: room?.name ?? null,
    path: '/round',
    changedAt,
  }));
}

function planEntries({ db, today, business }: About): Entry[] {
  return openPlans(db, { until: addDays(today, planDays) }).map((plan) => ({
    key: `plan-${plan.id}`,
    onDay: plan.onDay < today ? today : plan.onDay,
    title: planTitle(plan),
    details: planDetails(plan, plan.onDay < today, business.locale),
    place: plan.place,
    path: `/cultures/${encodeURIComponent(plan.code)}`,
    changedAt: plan.madeAt,
  }));
}

function packingEntries({ db, today, business }: About): Entry[] {
  return packingDays(db, today, addDays(today, planDays)).map((day) => ({
    key: `packing-${day.onDay}`,
    onDay: day.onDay,
    title: packingTitle(day, business.locale),
    details: packingDetails(day),
    place: null,
    path: '/orders',
    changedAt: day.changedAt,
  }));
}

/** What stands in the calendar now. */
const entriesOf = (about: About): Entry[] => [
  ...workEntries(about),
  ...planEntries(about),
  ...packingEntries(about),
];

/** Controls are no text of a calendar (RFC 5545, 3.3.11); line breaks stay where they are wanted. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is taken out
const controls = /[\u0000-\u0009\u000b-\u001f\u007f]/g;
const asText = (text: string) => text.replace(/\r\n?/g, '\n').replace(controls, ' ');

/** The library writes the calendar's name as it is given, so it is made a text of RFC 5545, 3.3.11, here. */
const asName = (text: string) =>
  asText(text)
    .replace(/\n/g, ' ')
    .replace(/[\\;,]/g, (sign) => `\\${sign}`);

/**
 * The entries as an iCalendar (RFC 5545): all-day entries that block nobody's time, each with a lasting name. A day is
 * written as a date without a zone, so that no reader's clock moves it; its end is the day after.
 */
export function calendarText(about: About, base: string): string {
  const { business } = about;
  const calendar = ical({
    name: asName(business.name),
    prodId: { company: 'Broodbench', product: 'Broodbench', language: 'EN' },
    ttl: 3600,
  });
  const midnight = (day: Day) => new Date(`${day}T00:00:00Z`);
  for (const { key, onDay, title, details, place, path, changedAt } of entriesOf(about)) {
    calendar.createEvent({
      id: `${key}@${business.madeAt.toString(36)}.broodbench`,
      allDay: true,
      start: midnight(onDay),
      end: midnight(addDays(onDay, 1)),
      summary: asText(title).replace(/\n/g, ' '),
      description: asText(details),
      location: place === null ? null : asText(place).replace(/\n/g, ' '),
      url: `${base}${path}`,
      stamp: new Date(changedAt),
      lastModified: new Date(changedAt),
      transparency: ICalEventTransparency.TRANSPARENT,
    });
  }
  return calendar.toString();
}
