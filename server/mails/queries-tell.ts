import { orderTotal } from '../../shared/orders/money.ts';
import { htmlMail, type MailText, plainMail } from '../../views/mails/letter.tsx';
import { confirmedMail, heldMail, sentMail, testMail } from '../../views/mails/write.ts';
import { speakerFor } from '../../views/words/speaker.ts';
import { type LoadedOrder, linesOf } from '../orders/queries.ts';
import { speakerOf } from '../orders/queries-reader.ts';
import type { Business } from '../plumbing/call.ts';
import type { Db } from '../plumbing/open-database.ts';
import { readBusiness } from '../settings/queries.ts';
import { addMail, type Mail } from './queries.ts';

const day = 86_400_000;

/** How long each kind is news: after that it is left unsent. */
export const newsFor: Record<Mail['kind'], number> = {
  'order confirmed': 3 * day,
  'order sent': day,
  'order held': day,
  test: day / 24,
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

/** A letter of the business to itself, at once. */
export function tellBusiness(tx: Db, business: Business, by: Teller) {
  const { language } = business;
  const text = testMail(speakerFor({ language, locale: business.locale }), senderOf(business));
  addMail(tx, {
    kind: 'test',
    tellsOf: `test ${by.now}`,
    orderId: null,
    toName: business.name,
    toAddress: business.email,
    language,
    subject: text.subject,
    plain: plainMail(text),
    html: htmlMail(text, language),
    withCareSheets: false,
    giveUpAt: by.now + newsFor.test,
    madeBy: by.personId,
    madeAt: by.now,
  });
}
