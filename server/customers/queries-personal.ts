import { eq, inArray, like, or, type SQL } from 'drizzle-orm';
import type { SQLiteTable } from 'drizzle-orm/sqlite-core';
import * as t from '../schema/tables.ts';
import type { Belongings } from './queries-belongings.ts';

/** What the record of changes calls a customer, their orders, and what was done about those. */
export const inRecordOf = ({ customerId, orderIds, orderNumbers }: Belongings): SQL | undefined => {
  const numbers = [...new Set([...orderIds, ...orderNumbers])];
  return or(
    eq(t.audit.subject, `customer ${customerId}`),
    inArray(
      t.audit.subject,
      numbers.map((number) => `order ${number}`),
    ),
    ...orderIds.map((id) => like(t.audit.subject, `amends % of order ${id}`)),
  );
};

/** What was read is named by the addresses of pages: an order's number, never its id. */
const readOf = ({ customerId, orderNumbers, invoiceIds, requestIds }: Belongings): SQL | undefined =>
  inArray(t.personalReads.subject, [
    `customer ${customerId}`,
    ...orderNumbers.map((number) => `order ${number}`),
    ...invoiceIds.map((id) => `invoice ${id}`),
    ...requestIds.map((id) => `request ${id}`),
  ]);

/**
 * What a column holds once the customer was erased: `gone` is taken out; `with the law` goes when invoices need not be
 * kept any more; `stays` tells nothing of a person by itself; `secret` is not given out either.
 */
export type Fate = 'gone' | 'with the law' | 'stays' | 'secret';

export type PersonalTable = {
  name: string;
  table: SQLiteTable;
  rows: (own: Belongings) => SQL | undefined;
  /** Every column of the table by its name in the schema; a test holds the two together. */
  columns: Record<string, Fate>;
};

const all = (names: string, fate: Fate): Record<string, Fate> =>
  Object.fromEntries(names.split(' ').map((name) => [name, fate]));

/** Every table with something of a customer's in it, and what becomes of each column. */
export const personalTables: readonly PersonalTable[] = [
  {
    name: 'customers',
    table: t.customers,
    rows: (own) => eq(t.customers.id, own.customerId),
    columns: {
      ...all('name email phone street postcode city region note', 'gone'),
      ...all('id country units paper language madeBy madeAt retiredAt version erasedAt', 'stays'),
    },
  },
  {
    name: 'orders',
    table: t.orders,
    rows: (own) => eq(t.orders.customerId, own.customerId),
    columns: {
      ...all('note tracking trackingLink', 'gone'),
      ...all(
        'id number customerId state currency postageMinor dispatchOn version madeBy madeAt sentOn',
        'stays',
      ),
      language: 'stays',
    },
  },
  {
    name: 'order_lines',
    table: t.orderLines,
    rows: (own) => inArray(t.orderLines.orderId, own.orderIds),
    columns: all(
      'id orderId position speciesId groups groupAdults groupJuveniles groupExtras priceMinor separateLines withdrawn',
      'stays',
    ),
  },
  {
    name: 'order_history',
    table: t.orderHistory,
    rows: (own) => inArray(t.orderHistory.orderId, own.orderIds),
    columns: { ...all('id orderId state madeBy madeAt', 'stays'), note: 'gone' },
  },
  {
    name: 'allocations',
    table: t.allocations,
    rows: (own) => inArray(t.allocations.orderLineId, own.lineIds),
    // The reason is about the culture: why animals were taken from its reserve.
    columns: all(
      'id orderLineId cultureId groups animals state overrideReason diaryId madeBy madeAt insteadOf',
      'stays',
    ),
  },
  {
    name: 'order_care_sheets',
    table: t.orderCareSheets,
    rows: (own) => inArray(t.orderCareSheets.orderId, own.orderIds),
    // A sheet is kept without the customer's name.
    columns: all(
      'id orderId position cultureId versionId language units paper businessName sheet madeBy madeAt',
      'stays',
    ),
  },
  {
    name: 'mails',
    table: t.mails,
    rows: (own) => inArray(t.mails.orderId, own.orderIds),
    columns: {
      ...all('toName toAddress subject plain html messageId answer', 'gone'),
      ...all(
        'id kind tellsOf orderId language withCareSheets state tries nextTryAt giveUpAt settledAt',
        'stays',
      ),
      ...all('madeBy madeAt', 'stays'),
    },
  },
  {
    name: 'order_requests',
    table: t.orderRequests,
    rows: (own) => inArray(t.orderRequests.id, own.requestIds),
    columns: {
      ...all('name email street postcode city region country note', 'gone'),
      ...all('id language currency orderId madeAt settledBy', 'stays'),
      ...all('state settledAt', 'stays'),
      formKey: 'secret',
    },
  },
  {
    name: 'order_request_lines',
    table: t.orderRequestLines,
    rows: (own) => inArray(t.orderRequestLines.requestId, own.requestIds),
    columns: all('requestId speciesId groups priceMinor', 'stays'),
  },
  {
    name: 'order_links',
    table: t.orderLinks,
    rows: (own) => inArray(t.orderLinks.orderId, own.orderIds),
    columns: { ...all('id orderId expiresAt madeBy madeAt endedBy endedAt', 'stays'), nonce: 'secret' },
  },
  {
    name: 'arrival_reports',
    table: t.arrivalReports,
    rows: (own) => inArray(t.arrivalReports.orderId, own.orderIds),
    columns: {
      ...all('id orderId linkId writtenBy allWell madeAt seenBy seenAt', 'stays'),
      formKey: 'secret',
    },
  },
  {
    name: 'arrival_losses',
    table: t.arrivalLosses,
    rows: (own) => inArray(t.arrivalLosses.reportId, own.reportIds),
    columns: all('reportId speciesId sent dead missing', 'stays'),
  },
  {
    name: 'arrival_words',
    table: t.arrivalWords,
    rows: (own) => inArray(t.arrivalWords.reportId, own.reportIds),
    columns: all('reportId note', 'gone'),
  },
  {
    name: 'arrival_photos',
    table: t.arrivalPhotos,
    rows: (own) => inArray(t.arrivalPhotos.reportId, own.reportIds),
    columns: all('id reportId widthPx heightPx sha256', 'gone'),
  },
  {
    name: 'arrival_photo_files',
    table: t.arrivalPhotoFiles,
    rows: (own) => inArray(t.arrivalPhotoFiles.photoId, own.photoIds),
    columns: all('photoId bytes', 'gone'),
  },
  {
    name: 'amends',
    table: t.amends,
    rows: (own) => inArray(t.amends.orderId, own.orderIds),
    columns: {
      ...all('id orderId kind amountMinor newOrderId madeBy madeAt endedBy endedAt', 'stays'),
      reason: 'gone',
    },
  },
  {
    name: 'trips',
    table: t.trips,
    rows: (own) => inArray(t.trips.orderId, own.orderIds),
    columns: all(
      'id orderId boxId packId lowestC highestC hoursBelowSafe hoursAboveSafe transitHours madeBy madeAt',
      'stays',
    ),
  },
  {
    name: 'order_parcels',
    table: t.orderParcels,
    rows: (own) => inArray(t.orderParcels.orderId, own.orderIds),
    // The place is where the weather is asked for: the customer's town.
    columns: { ...all('orderId carrierId notBefore madeBy madeAt', 'stays'), placeId: 'gone' },
  },
  {
    name: 'parcel_choices',
    table: t.parcelChoices,
    rows: (own) => inArray(t.parcelChoices.orderId, own.orderIds),
    // The reason is why a risk was taken with the animals; it is part of what was decided for them.
    columns: all(
      'id orderId dispatchOn arrivesOn dispatchBy carrierId boxId packId packs isHeld reason lowestC highestC hoursBelowSafe hoursAboveSafe transitHours decided dispatchBefore insteadOf batch madeBy madeAt takenAt endedBy endedAt',
      'stays',
    ),
  },
  {
    name: 'invoices',
    table: t.invoices,
    rows: (own) => inArray(t.invoices.orderId, own.orderIds),
    columns: all(
      'id number kind orderId creditsId amendsId currency issuedOn suppliedOn dueOn language locale paper sellerName sellerAddress sellerEmail sellerTaxNumber payWords exemptWords reason netMinor taxMinor totalMinor madeBy madeAt',
      'stays',
    ),
  },
  {
    name: 'invoice_lines',
    table: t.invoiceLines,
    rows: (own) => inArray(t.invoiceLines.invoiceId, own.invoiceIds),
    columns: all(
      'invoiceId position kind words scientificName detail quantity priceMinor totalMinor',
      'stays',
    ),
  },
  {
    name: 'invoice_taxes',
    table: t.invoiceTaxes,
    rows: (own) => inArray(t.invoiceTaxes.invoiceId, own.invoiceIds),
    columns: all(
      'invoiceId position name rateThousandths mode onGoods onCarriage baseMinor taxMinor',
      'stays',
    ),
  },
  {
    name: 'invoice_buyers',
    table: t.invoiceBuyers,
    rows: (own) => inArray(t.invoiceBuyers.invoiceId, own.invoiceIds),
    columns: all('invoiceId name address country', 'with the law'),
  },
  {
    name: 'payments',
    table: t.payments,
    rows: (own) => inArray(t.payments.orderId, own.orderIds),
    columns: {
      ...all('id orderId kind amountMinor wayId paidOn madeBy madeAt endedBy endedAt', 'stays'),
      note: 'gone',
    },
  },
  {
    name: 'audit',
    table: t.audit,
    rows: inRecordOf,
    // The two hashes tell nothing once the salt has gone with the words.
    columns: {
      ...all('id at personId action subject bodyHash chain', 'stays'),
      ...all('before after', 'gone'),
      salt: 'secret',
    },
  },
  {
    name: 'personal_reads',
    table: t.personalReads,
    rows: readOf,
    columns: all('id onDay at personId subject way', 'stays'),
  },
  {
    name: 'erasures',
    table: t.erasures,
    rows: (own) => eq(t.erasures.customerId, own.customerId),
    columns: all('id customerId customerMadeAt erasedAt erasedBy done', 'stays'),
  },
];
