import { integer, primaryKey, sqliteTable, text } from 'drizzle-orm/sqlite-core';
import { languages } from '../../shared/settings/languages.ts';

export const invoicing = sqliteTable('invoicing', {
  id: integer('id').primaryKey(),
  prefix: text('prefix').notNull(),
  firstNumber: integer('first_number').notNull(),
  taxNumber: text('tax_number').notNull(),
  termDays: integer('term_days').notNull(),
  payWords: text('pay_words').notNull(),
  exempt: integer('exempt', { mode: 'boolean' }).notNull(),
  exemptEn: text('exempt_en').notNull(),
  exemptDe: text('exempt_de').notNull(),
  exemptEs: text('exempt_es').notNull(),
  /** How long invoices are kept, and after how long a customer without orders is proposed for erasing. */
  keepYears: integer('keep_years').notNull(),
  inactiveYears: integer('inactive_years').notNull(),
});

export const taxRates = sqliteTable('tax_rates', {
  id: integer('id').primaryKey(),
  name: text('name').notNull(),
  rateThousandths: integer('rate_thousandths').notNull(),
  mode: text('mode', { enum: ['included', 'added'] }).notNull(),
  onGoods: integer('on_goods', { mode: 'boolean' }).notNull(),
  onCarriage: integer('on_carriage', { mode: 'boolean' }).notNull(),
  fromOn: text('from_on').notNull(),
  untilOn: text('until_on'),
  madeAt: integer('made_at').notNull(),
  retiredAt: integer('retired_at'),
});

export const paymentWays = sqliteTable('payment_ways', {
  id: integer('id').primaryKey(),
  name: text('name').notNull(),
  retiredAt: integer('retired_at'),
});

export const invoices = sqliteTable('invoices', {
  /** The place in the sequence of numbers. */
  id: integer('id').primaryKey(),
  number: text('number').notNull(),
  kind: text('kind', { enum: ['invoice', 'credit'] }).notNull(),
  orderId: integer('order_id').notNull(),
  /** The invoice that a credit note takes back, all of it or a part. */
  creditsId: integer('credits_id'),
  amendsId: integer('amends_id'),
  currency: text('currency').notNull(),
  issuedOn: text('issued_on').notNull(),
  suppliedOn: text('supplied_on').notNull(),
  dueOn: text('due_on'),
  language: text('language', { enum: languages }).notNull(),
  locale: text('locale').notNull(),
  paper: text('paper', { enum: ['A4', 'Letter'] }).notNull(),
  sellerName: text('seller_name').notNull(),
  sellerAddress: text('seller_address').notNull(),
  sellerEmail: text('seller_email').notNull(),
  sellerTaxNumber: text('seller_tax_number').notNull(),
  payWords: text('pay_words').notNull(),
  exemptWords: text('exempt_words').notNull(),
  reason: text('reason').notNull(),
  netMinor: integer('net_minor').notNull(),
  taxMinor: integer('tax_minor').notNull(),
  totalMinor: integer('total_minor').notNull(),
  madeBy: text('made_by'),
  madeAt: integer('made_at').notNull(),
});

export const invoiceLines = sqliteTable(
  'invoice_lines',
  {
    invoiceId: integer('invoice_id').notNull(),
    position: integer('position').notNull(),
    kind: text('kind', { enum: ['goods', 'carriage'] }).notNull(),
    words: text('words').notNull(),
    scientificName: text('scientific_name').notNull(),
    detail: text('detail').notNull(),
    quantity: integer('quantity').notNull(),
    priceMinor: integer('price_minor').notNull(),
    totalMinor: integer('total_minor').notNull(),
  },
  (table) => [primaryKey({ columns: [table.invoiceId, table.position] })],
);

export const invoiceTaxes = sqliteTable(
  'invoice_taxes',
  {
    invoiceId: integer('invoice_id').notNull(),
    position: integer('position').notNull(),
    name: text('name').notNull(),
    rateThousandths: integer('rate_thousandths').notNull(),
    mode: text('mode', { enum: ['included', 'added'] }).notNull(),
    onGoods: integer('on_goods', { mode: 'boolean' }).notNull(),
    onCarriage: integer('on_carriage', { mode: 'boolean' }).notNull(),
    baseMinor: integer('base_minor').notNull(),
    taxMinor: integer('tax_minor').notNull(),
  },
  (table) => [primaryKey({ columns: [table.invoiceId, table.position] })],
);

/** To whom an invoice was written; gone once the customer was erased and the years of keeping are over. */
export const invoiceBuyers = sqliteTable('invoice_buyers', {
  invoiceId: integer('invoice_id').primaryKey(),
  name: text('name').notNull(),
  address: text('address').notNull(),
  country: text('country').notNull(),
});

export const payments = sqliteTable('payments', {
  id: integer('id').primaryKey(),
  orderId: integer('order_id').notNull(),
  kind: text('kind', { enum: ['payment', 'refund'] }).notNull(),
  amountMinor: integer('amount_minor').notNull(),
  wayId: integer('way_id').notNull(),
  paidOn: text('paid_on').notNull(),
  note: text('note').notNull(),
  madeBy: text('made_by'),
  madeAt: integer('made_at').notNull(),
  endedBy: text('ended_by'),
  endedAt: integer('ended_at'),
});

/** Customers who were erased, by number alone. */
export const erasures = sqliteTable('erasures', {
  id: integer('id').primaryKey(),
  customerId: integer('customer_id').notNull(),
  /** With the number it says that this is the same customer. */
  customerMadeAt: integer('customer_made_at').notNull(),
  erasedAt: integer('erased_at').notNull(),
  erasedBy: text('erased_by'),
  done: integer('done', { mode: 'boolean' }).notNull(),
});
