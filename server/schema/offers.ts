import { integer, primaryKey, sqliteTable, text } from 'drizzle-orm/sqlite-core';
import { languages } from '../../shared/settings/languages.ts';

/** How the list of what is spare is shown to strangers. One row or none; none is off. */
export const offerList = sqliteTable('offer_list', {
  id: integer('id').primaryKey(),
  isOn: integer('is_on', { mode: 'boolean' }).notNull(),
  mayBeFound: integer('may_be_found', { mode: 'boolean' }).notNull(),
  takesRequests: integer('takes_requests', { mode: 'boolean' }).notNull(),
  mostShown: integer('most_shown').notNull(),
});

/** Species for sale that the list leaves out. */
export const unlistedSpecies = sqliteTable('unlisted_species', {
  speciesId: integer('species_id').primaryKey(),
  madeAt: integer('made_at').notNull(),
});

/** What a stranger asked for; nobody's customer until the owner takes it. */
export const orderRequests = sqliteTable('order_requests', {
  id: integer('id').primaryKey(),
  formKey: text('form_key').notNull(),
  state: text('state', { enum: ['new', 'taken', 'refused'] }).notNull(),
  name: text('name').notNull(),
  email: text('email').notNull(),
  street: text('street').notNull(),
  postcode: text('postcode').notNull(),
  city: text('city').notNull(),
  region: text('region').notNull(),
  country: text('country').notNull(),
  language: text('language', { enum: languages }).notNull(),
  note: text('note').notNull(),
  currency: text('currency').notNull(),
  orderId: integer('order_id'),
  madeAt: integer('made_at').notNull(),
  settledBy: text('settled_by'),
  settledAt: integer('settled_at'),
});

export const orderRequestLines = sqliteTable(
  'order_request_lines',
  {
    requestId: integer('request_id').notNull(),
    speciesId: integer('species_id').notNull(),
    groups: integer('groups').notNull(),
    /** As the list showed it when it was asked. */
    priceMinor: integer('price_minor').notNull(),
  },
  (t) => [primaryKey({ columns: [t.requestId, t.speciesId] })],
);
