import { randomUUID } from 'node:crypto';
import { daysOnWay, lastReportDay } from '../../shared/arrivals/habits.ts';
import type { ReportFault } from '../../shared/arrivals/report-form.ts';
import { animalsPerGroup } from '../../shared/orders/make-up.ts';
import { dayInZone } from '../../shared/zone-day.ts';
import type { CustomerOrderProps } from '../../views/arrivals/page-customer-order.tsx';
import type { PhotoWords, ReportPart } from '../../views/arrivals/part-report-form.tsx';
import type { Speaker } from '../../views/words/speaker.ts';
import { tradeWord } from '../../views/words/trade.ts';
import { hasCareSheets } from '../documents/queries-care.ts';
import { type LoadedOrder, linesOf, orderById } from '../orders/queries.ts';
import { speakerOf } from '../orders/queries-reader.ts';
import { choicesOf } from '../parcels/queries-choices.ts';
import type { Business } from '../plumbing/call.ts';
import type { Db } from '../plumbing/open-database.ts';
import { readSpecies } from '../species/queries.ts';
import { careIn } from '../species/queries-care.ts';
import { readHabits } from './queries-habits.ts';
import { linkOf, type OrderLink } from './queries-links.ts';
import { reportsOf, sentOf } from './queries-reports.ts';
import { tripOf } from './queries-trips.ts';

/** An order that somebody has come to by its address. */
export type Visit = LoadedOrder & {
  db: Db;
  link: OrderLink;
  business: Business;
  speaker: Speaker;
  token: string;
  now: number;
};

export function visitOf(
  db: Db,
  { link, business, token, now }: { link: OrderLink; business: Business; token: string; now: number },
): Visit {
  const loaded = orderById(db, link.orderId);
  return { ...loaded, db, link, business, speaker: speakerOf(loaded, business), token, now };
}

export const pathOf = ({ token }: Visit) => `/o/${token}`;

/** Whether a report is taken now, and until which day. */
export function reportingOf({
  db,
  order,
  business,
  now,
}: Visit): Pick<ReportPart, 'open' | 'until' | 'waits'> {
  const { state, sentOn } = order;
  if (!sentOn || (state !== 'sent' && state !== 'closed'))
    return { open: 'not yet', until: null, waits: null };
  const habits = readHabits(db);
  const transitHours = tripOf(db, order.id)?.transitHours;
  const until = lastReportDay(sentOn, habits, transitHours);
  const waits = { onWay: daysOnWay(habits, transitHours), more: habits.reportDays };
  return { open: dayInZone(now, business.timeZone) <= until ? 'open' : 'over', until, waits };
}

/** Its way as it was decided; null where it was not, or where it leaves on another day by now. */
function wayOf({ db, order }: Visit): CustomerOrderProps['way'] {
  const choice = choicesOf(db, [order.id]).get(order.id);
  if (!choice || choice.dispatchOn !== (order.sentOn ?? order.dispatchOn)) return null;
  const { arrivesOn, isHeld, isOverride, lowestC, highestC, limits } = choice;
  const { safeLowC, safeHighC } = limits;
  return { arrivesOn, isHeld, temps: isOverride ? null : { lowestC, highestC, safeLowC, safeHighC } };
}

/** The groups of a species and the animals in each; none where something else was packed than that. */
function groupsOf({ db, order }: Visit, speciesId: number, animals: number) {
  const groups = linesOf(db, order.id)
    .filter((line) => line.speciesId === speciesId)
    .map((line) => ({ groups: line.groups, each: animalsPerGroup(line) }));
  return groups.reduce((sum, one) => sum + one.groups * one.each, 0) === animals ? groups : [];
}

/** What was sent, with the names the customer knows. */
function namedAnimals(visit: Visit) {
  const { db, order, speaker } = visit;
  return sentOf(db, order.id).map((one) => {
    const species = readSpecies(db, one.speciesId);
    const care = species && careIn(db, species, speaker.language);
    const commonName = care?.commonName ?? '';
    // As on the care sheets: what nobody translated, but what everybody calls the same.
    const isEnglish = care?.inEnglish.includes('name') ?? false;
    const groups = groupsOf(visit, one.speciesId, one.animals);
    return {
      ...one,
      groups,
      commonName: (isEnglish && tradeWord(speaker.language, commonName)) || commonName,
    };
  });
}

/** A form that came back: what was typed, and what is wrong with it. */
export type CameBack = {
  values: Record<string, string>;
  faults: ReadonlyMap<string, ReportFault>;
  photoFault: PhotoWords | null;
  isEnough: boolean;
};

const nothingBack: CameBack = { values: {}, faults: new Map(), photoFault: null, isEnough: false };

function saidOf({ db, order, speaker, business }: Visit): ReportPart['said'] {
  const [report] = reportsOf(db, order.id);
  if (!report) return null;
  const { allWell, losses, note, photos, madeAt } = report;
  const when = speaker.moment(madeAt, business.timeZone);
  return { when, allWell, losses, note, photos: photos.length };
}

/** All that the customer's page of an order shows; nothing else of the order goes there. */
export function customerPageProps(
  visit: Visit,
  assetVersion: string,
  back: CameBack = nothingBack,
): Omit<CustomerOrderProps, 'paused'> {
  const { db, order, business, speaker, now } = visit;
  const { number, state, dispatchOn, sentOn, tracking, trackingLink } = order;
  const animals = namedAnimals(visit);
  const hasPapers = state !== 'draft' && state !== 'cancelled';
  return {
    speaker,
    business: { name: business.name, address: business.address, email: business.email },
    order: { number, state, dispatchOn, sentOn, tracking, trackingLink },
    animals,
    way: wayOf(visit),
    units: visit.customer.units,
    path: pathOf(visit),
    hasCareSheets: hasPapers && hasCareSheets(db, visit, dayInZone(now, business.timeZone)),
    report: {
      ...reportingOf(visit),
      askWithinHours: readHabits(db).askWithinHours,
      sent: animals,
      said: saidOf(visit),
      ...back,
      formKey: randomUUID(),
    },
    assetVersion,
  };
}

/** Looked at again inside a transaction: an address that was ended meanwhile takes no report. */
export const isStillOpen = (tx: Db, { id, orderId }: OrderLink) => linkOf(tx, orderId)?.id === id;
