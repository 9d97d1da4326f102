import { orderTotal } from '../../shared/orders/money.ts';
import { dayInZone } from '../../shared/zone-day.ts';
import { htmlMail, type MailText, plainMail } from '../../views/mails/letter.tsx';
import {
  backupMail,
  confirmedMail,
  diskMail,
  heldMail,
  requestsMail,
  sentMail,
  testMail,
} from '../../views/mails/write.ts';
import { speakerFor } from '../../views/words/speaker.ts';
import { type LoadedOrder, linesOf } from '../orders/queries.ts';
import { speakerOf } from '../orders/queries-reader.ts';
import type { Business } from '../plumbing/call.ts';
import type { Db } from '../plumbing/open-database.ts';
import { readBusiness } from '../settings/queries.ts';
import { addMail, isTold, type Mail } from './queries.ts';

const day = 86_400_000;

/** How long each kind is news: after that it is left unsent. */
export const newsFor: Record<Mail['kind'], number> = {
  'order confirmed': 3 * day,
  'order sent': day,
  'order held': day,
  test: day / 24,
  warning: day,
  requests: day,
  account: 3 * day,
};

export type Teller = { personId: string; now: number };

const senderOf = ({ name, address, email }: Business) => ({
  name,
  address: address.split('\n').join(', '),
  email,
});

/** Who is written to, and who speaks to them; null where no address is known. */
function readerOf(business: Business, loaded: LoadedOrder) {
  const { customer } = loaded;
  if (!customer.email) return null;
  return { speaker: speakerOf(loaded, business), toName: customer.name, toAddress: customer.email };
}

type Told = { kind: Mail['kind']; text: MailText; withCareSheets: boolean };

/** Keeps a letter about the step that an order has just taken. */
function keep(
  tx: Db,
  { order }: LoadedOrder,
  reader: NonNullable<ReturnType<typeof readerOf>>,
  { kind, text, withCareSheets }: Told,
  by: Teller,
) {
  addMail(tx, {
    kind,
    tellsOf: `order ${order.id}, ${kind}, version ${order.version}`,
    orderId: order.id,
    toName: reader.toName,
    toAddress: reader.toAddress,
    language: reader.speaker.language,
    subject: text.subject,
    plain: plainMail(text),
    html: htmlMail(text, reader.speaker.language),
    withCareSheets,
    giveUpAt: by.now + newsFor[kind],
    madeBy: by.personId,
    madeAt: by.now,
  });
}

const headOf = (business: Business, { order, customer }: LoadedOrder) => ({
  number: order.number,
  customerName: customer.name,
  sender: senderOf(business),
});

/** Writes that the order is confirmed, in the transaction that confirms it. False where no address is known. */
export function tellConfirmed(tx: Db, loaded: LoadedOrder, by: Teller): boolean {
  const business = readBusiness(tx);
  const reader = readerOf(business, loaded);
  if (!reader) return false;
  const { order } = loaded;
  const lines = linesOf(tx, order.id);
  const text = confirmedMail(reader.speaker, {
    ...headOf(business, loaded),
    lines,
    totalMinor: orderTotal(lines, order.postageMinor),
    currency: order.currency,
    leavesOn: order.dispatchOn,
  });
  keep(tx, loaded, reader, { kind: 'order confirmed', text, withCareSheets: false }, by);
  return true;
}

/** Writes that the parcel has left, with its care sheets enclosed where there are any. */
export function tellSent(tx: Db, loaded: LoadedOrder, by: Teller, withCareSheets: boolean): boolean {
  const business = readBusiness(tx);
  const reader = readerOf(business, loaded);
  const { sentOn, tracking, trackingLink } = loaded.order;
  if (!reader || !sentOn) return false;
  const text = sentMail(reader.speaker, {
    ...headOf(business, loaded),
    sentOn,
    tracking,
    trackingLink,
    withCareSheets,
  });
  keep(tx, loaded, reader, { kind: 'order sent', text, withCareSheets }, by);
  return true;
}

/** Writes that the parcel waits for the weather, until the order's day. */
export function tellHeld(tx: Db, loaded: LoadedOrder, by: Teller): boolean {
  const business = readBusiness(tx);
  const reader = readerOf(business, loaded);
  if (!reader) return false;
  const text = heldMail(reader.speaker, { ...headOf(business, loaded), leavesOn: loaded.order.dispatchOn });
  keep(tx, loaded, reader, { kind: 'order held', text, withCareSheets: false }, by);
  return true;
}

/** A letter to the business itself. */
function keepOwn(
  tx: Db,
  business: Business,
  { kind, tellsOf, text }: { kind: Mail['kind']; tellsOf: string; text: MailText },
  by: { personId: string | null; now: number },
) {
  addMail(tx, {
    kind,
    tellsOf,
    orderId: null,
    toName: business.name,
    toAddress: business.email,
    language: business.language,
    subject: text.subject,
    plain: plainMail(text),
    html: htmlMail(text, business.language),
    withCareSheets: false,
    giveUpAt: by.now + newsFor[kind],
    madeBy: by.personId,
    madeAt: by.now,
  });
}

const speakerTo = ({ language, locale }: Business) => speakerFor({ language, locale });

/** A letter of the business to itself, at once. */
export function tellBusiness(tx: Db, business: Business, by: Teller) {
  const text = testMail(speakerTo(business), senderOf(business));
  keepOwn(tx, business, { kind: 'test', tellsOf: `test ${by.now}`, text }, by);
}

export type Trouble =
  | { about: 'disk'; leftMb: number }
  | { about: 'backup'; provenAt: number | null; why: string | null };

/** Longest of a program's last words that go into a letter. */
const mostWords = 300;

/**
 * Writes to the business that the service is in trouble, once a day at most for each kind. False where it was told
 * already or no address is known.
 */
export function tellTrouble(db: Db, trouble: Trouble, now: number): boolean {
  return db.transaction((tx) => {
    const business = readBusiness(tx);
    const dayOf = (at: number) => dayInZone(at, business.timeZone);
    const tellsOf = `warning ${trouble.about} ${dayOf(now)}`;
    if (!business.email || isTold(tx, tellsOf)) return false;
    const speaker = speakerTo(business);
    const text =
      trouble.about === 'disk'
        ? diskMail(speaker, trouble.leftMb)
        : backupMail(speaker, {
            provenOn: trouble.provenAt === null ? null : dayOf(trouble.provenAt),
            why: trouble.why?.slice(0, mostWords) ?? null,
          });
    keepOwn(tx, business, { kind: 'warning', tellsOf, text }, { personId: null, now });
    return true;
  });
}

/**
 * Writes to the business that strangers ask for animals: once an hour at most, however many do, and nothing of what they
 * wrote, which may be anybody's. `address` is that of the page of requests, null where the service does not know its own.
 */
export function tellRequests(
  tx: Db,
  business: Business,
  { waiting, address, now }: { waiting: number; address: string | null; now: number },
) {
  const tellsOf = `requests ${new Date(now).toISOString().slice(0, 13)}`;
  if (!business.email || isTold(tx, tellsOf)) return;
  const text = requestsMail(speakerTo(business), waiting, address);
  keepOwn(tx, business, { kind: 'requests', tellsOf, text }, { personId: null, now });
}
