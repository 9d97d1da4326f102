import { blob, integer, primaryKey, real, sqliteTable, text } from 'drizzle-orm/sqlite-core';

export const linkKey = sqliteTable('link_key', {
  id: integer('id').primaryKey(),
  secret: blob('secret', { mode: 'buffer' }).notNull(),
  madeAt: integer('made_at').notNull(),
});

export const orderLinks = sqliteTable('order_links', {
  id: integer('id').primaryKey(),
  orderId: integer('order_id').notNull(),
  nonce: blob('nonce', { mode: 'buffer' }).notNull(),
  expiresAt: integer('expires_at').notNull(),
  madeBy: text('made_by'),
  madeAt: integer('made_at').notNull(),
  endedBy: text('ended_by'),
  endedAt: integer('ended_at'),
});

export const arrivalHabits = sqliteTable('arrival_habits', {
  id: integer('id').primaryKey(),
  askWithinHours: integer('ask_within_hours').notNull(),
  usualTransitDays: integer('usual_transit_days').notNull(),
  reportDays: integer('report_days').notNull(),
  linkDays: integer('link_days').notNull(),
});

export const arrivalReports = sqliteTable('arrival_reports', {
  id: integer('id').primaryKey(),
  orderId: integer('order_id').notNull(),
  linkId: integer('link_id'),
  writtenBy: text('written_by'),
  allWell: integer('all_well', { mode: 'boolean' }).notNull(),
  formKey: text('form_key').notNull(),
  madeAt: integer('made_at').notNull(),
  seenBy: text('seen_by'),
  seenAt: integer('seen_at'),
});

export const arrivalLosses = sqliteTable(
  'arrival_losses',
  {
    reportId: integer('report_id').notNull(),
    speciesId: integer('species_id').notNull(),
    sent: integer('sent').notNull(),
    dead: integer('dead').notNull(),
    missing: integer('missing').notNull(),
  },
  (table) => [primaryKey({ columns: [table.reportId, table.speciesId] })],
);

export const arrivalWords = sqliteTable('arrival_words', {
  reportId: integer('report_id').primaryKey(),
  note: text('note').notNull(),
});

export const arrivalPhotos = sqliteTable('arrival_photos', {
  id: integer('id').primaryKey(),
  reportId: integer('report_id').notNull(),
  widthPx: integer('width_px').notNull(),
  heightPx: integer('height_px').notNull(),
  sha256: text('sha256').notNull(),
});

export const arrivalPhotoFiles = sqliteTable('arrival_photo_files', {
  photoId: integer('photo_id').primaryKey(),
  bytes: blob('bytes', { mode: 'buffer' }).notNull(),
});

export const amends = sqliteTable('amends', {
  id: integer('id').primaryKey(),
  orderId: integer('order_id').notNull(),
  kind: text('kind', { enum: ['refund', 'credit', 'reship'] }).notNull(),
  amountMinor: integer('amount_minor'),
  newOrderId: integer('new_order_id'),
  reason: text('reason').notNull(),
  madeBy: text('made_by'),
  madeAt: integer('made_at').notNull(),
  endedBy: text('ended_by'),
  endedAt: integer('ended_at'),
});

export const trips = sqliteTable('trips', {
  id: integer('id').primaryKey(),
  orderId: integer('order_id').notNull(),
  boxId: integer('box_id'),
  packId: integer('pack_id'),
  lowestC: real('lowest_c').notNull(),
  highestC: real('highest_c').notNull(),
  hoursBelowSafe: real('hours_below_safe').notNull(),
  hoursAboveSafe: real('hours_above_safe').notNull(),
  transitHours: real('transit_hours').notNull(),
  madeBy: text('made_by'),
  madeAt: integer('made_at').notNull(),
});
