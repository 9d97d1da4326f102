import { randomUUID } from 'node:crypto';
import { lastReportDay } from '../../shared/arrivals/habits.ts';
import type { ReportFault } from '../../shared/arrivals/report-form.ts';
import { dayInZone } from '../../shared/zone-day.ts';
import type { CustomerOrderProps } from '../../views/arrivals/page-customer-order.tsx';
import type { PhotoWords, ReportPart } from '../../views/arrivals/part-report-form.tsx';
import type { Speaker } from '../../views/words/speaker.ts';
import { tradeWord } from '../../views/words/trade.ts';
import { hasCareSheets } from '../documents/queries-care.ts';
import { type LoadedOrder, orderById } from '../orders/queries.ts';
import { speakerOf } from '../orders/queries-reader.ts';
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
export function reportingOf({ db, order, business, now }: Visit): Pick<ReportPart, 'open' | 'until'> {
  const { state, sentOn } = order;
  if (!sentOn || (state !== 'sent' && state !== 'closed')) return { open: 'not yet', until: null };
  const until = lastReportDay(sentOn, readHabits(db), tripOf(db, order.id)?.transitHours);
  return { open: dayInZone(now, business.timeZone) <= until ? 'open' : 'over', until };
}

/** What was sent, with the names the customer knows. */
function namedAnimals({ db, order, speaker }: Visit) {
  return sentOf(db, order.id).map((one) => {
    const species = readSpecies(db, one.speciesId);
    const care = species && careIn(db, species, speaker.language);
    const commonName = care?.commonName ?? '';
    // As on the care sheets: what nobody translated, but what everybody calls the same.
    const isEnglish = care?.inEnglish.includes('name') ?? false;
    return { ...one, commonName: (isEnglish && tradeWord(speaker.language, commonName)) || commonName };
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
): CustomerOrderProps {
  const { db, order, business, speaker, now } = visit;
  const { number, state, dispatchOn, sentOn, tracking, trackingLink } = order;
  const animals = namedAnimals(visit);
  const hasPapers = state !== 'draft' && state !== 'cancelled';
  return {
    speaker,
    business: { name: business.name, address: business.address, email: business.email },
    order: { number, state, dispatchOn, sentOn, tracking, trackingLink },
    animals,
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
