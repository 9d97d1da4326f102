import { integer, sqliteTable, text } from 'drizzle-orm/sqlite-core';
import { languages } from '../../shared/settings/languages.ts';

export const customers = sqliteTable('customers', {
  id: integer('id').primaryKey(),
  name: text('name').notNull(),
  email: text('email').notNull(),
  phone: text('phone').notNull(),
  street: text('street').notNull(),
  postcode: text('postcode').notNull(),
  city: text('city').notNull(),
  region: text('region').notNull(),
  country: text('country').notNull(),
  units: text('units', { enum: ['metric', 'us'] }).notNull(),
  paper: text('paper', { enum: ['A4', 'Letter'] }).notNull(),
  language: text('language', { enum: languages }).notNull().default('en'),
  note: text('note').notNull(),
  madeBy: text('made_by'),
  madeAt: integer('made_at').notNull(),
  retiredAt: integer('retired_at'),
  version: integer('version').notNull().default(1),
  /** When the person was taken out of it; the orders stay. */
  erasedAt: integer('erased_at'),
});

export const orders = sqliteTable('orders', {
  id: integer('id').primaryKey(),
  number: integer('number').notNull(),
  customerId: integer('customer_id').notNull(),
  state: text('state', { enum: ['draft', 'confirmed', 'packed', 'sent', 'closed', 'cancelled'] }).notNull(),
  currency: text('currency').notNull(),
  postageMinor: integer('postage_minor').notNull(),
  dispatchOn: text('dispatch_on'),
  note: text('note').notNull(),
  version: integer('version').notNull(),
  madeBy: text('made_by'),
  madeAt: integer('made_at').notNull(),
  /** The day it left, as somebody said it; the history says when that was written down. */
  sentOn: text('sent_on'),
  /** The carrier's number of the parcel, and where it can be followed. */
  tracking: text('tracking').notNull().default(''),
  trackingLink: text('tracking_link').notNull().default(''),
  /** Of what the customer reads about it; null for the customer's own. */
  language: text('language', { enum: languages }),
});

export const orderLines = sqliteTable('order_lines', {
  id: integer('id').primaryKey(),
  orderId: integer('order_id').notNull(),
  position: integer('position').notNull(),
  speciesId: integer('species_id').notNull(),
  groups: integer('groups').notNull(),
  groupAdults: integer('group_adults').notNull(),
  groupJuveniles: integer('group_juveniles').notNull(),
  groupExtras: integer('group_extras').notNull(),
  priceMinor: integer('price_minor').notNull(),
  /** Unrelated starts: each group from another line of cultures. */
  separateLines: integer('separate_lines', { mode: 'boolean' }).notNull().default(false),
  /** Taken off the order; kept because animals were once promised on it. */
  withdrawn: integer('withdrawn', { mode: 'boolean' }).notNull().default(false),
});

export const orderHistory = sqliteTable('order_history', {
  id: integer('id').primaryKey(),
  orderId: integer('order_id').notNull(),
  state: text('state').notNull(),
  note: text('note').notNull(),
  madeBy: text('made_by'),
  madeAt: integer('made_at').notNull(),
});

export const allocations = sqliteTable('allocations', {
  id: integer('id').primaryKey(),
  orderLineId: integer('order_line_id').notNull(),
  cultureId: integer('culture_id').notNull(),
  groups: integer('groups').notNull(),
  animals: integer('animals').notNull(),
  state: text('state', { enum: ['reserved', 'packed', 'released'] }).notNull(),
  overrideReason: text('override_reason'),
  diaryId: integer('diary_id'),
  madeBy: text('made_by'),
  madeAt: integer('made_at').notNull(),
  /** A packed allocation that was not packed after all: this one stands in its place. */
  insteadOf: integer('instead_of'),
});
