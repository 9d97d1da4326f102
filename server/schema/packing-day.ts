import { integer, real, sqliteTable, text } from 'drizzle-orm/sqlite-core';
import type { Decided } from '../../shared/parcels/choice.ts';

export const carriers = sqliteTable('carriers', {
  id: integer('id').primaryKey(),
  name: text('name').notNull(),
  cutOff: text('cut_off'),
  collectsOn: text('collects_on').notNull(),
  deliversOn: text('delivers_on').notNull(),
  country: text('country').notNull(),
  region: text('region'),
  transitDays: integer('transit_days').notNull(),
  deliveredBy: text('delivered_by').notNull(),
  lateHours: real('late_hours').notNull(),
  startHours: real('start_hours').notNull(),
  endHours: real('end_hours').notNull(),
  vanWarmerC: real('van_warmer_c').notNull(),
  porchHours: real('porch_hours').notNull(),
  mayHold: integer('may_hold', { mode: 'boolean' }).notNull(),
  holdPriceMinor: integer('hold_price_minor').notNull(),
  counterHours: real('counter_hours').notNull(),
  counterC: real('counter_c').notNull(),
  hubPlaceId: integer('hub_place_id'),
  note: text('note').notNull(),
  madeAt: integer('made_at').notNull(),
  retiredAt: integer('retired_at'),
});

export const weatherAreas = sqliteTable('weather_areas', {
  id: integer('id').primaryKey(),
  placeId: integer('place_id').notNull(),
  country: text('country').notNull(),
  postcodeStart: text('postcode_start').notNull(),
  madeAt: integer('made_at').notNull(),
});

/** One row or none. */
export const parcelHabits = sqliteTable('parcel_habits', {
  id: integer('id').primaryKey(),
  originPlaceId: integer('origin_place_id'),
  carrierId: integer('carrier_id'),
  packedAt: text('packed_at').notNull(),
  startC: real('start_c').notNull(),
  cupG: real('cup_g').notNull(),
  cupL: real('cup_l').notNull(),
  contentsJPerKgK: real('contents_j_per_kg_k').notNull(),
  errorAtOnceC: real('error_at_once_c').notNull(),
  errorPerDayC: real('error_per_day_c').notNull(),
  staleHours: integer('stale_hours').notNull(),
});

export const orderParcels = sqliteTable('order_parcels', {
  orderId: integer('order_id').primaryKey(),
  placeId: integer('place_id'),
  carrierId: integer('carrier_id'),
  notBefore: text('not_before'),
  madeBy: text('made_by'),
  madeAt: integer('made_at').notNull(),
});

export const parcelChoices = sqliteTable('parcel_choices', {
  id: integer('id').primaryKey(),
  orderId: integer('order_id').notNull(),
  dispatchOn: text('dispatch_on').notNull(),
  arrivesOn: text('arrives_on').notNull(),
  dispatchBy: text('dispatch_by'),
  carrierId: integer('carrier_id').notNull(),
  boxId: integer('box_id').notNull(),
  packId: integer('pack_id'),
  packs: integer('packs').notNull(),
  isHeld: integer('is_held', { mode: 'boolean' }).notNull(),
  reason: text('reason'),
  lowestC: real('lowest_c').notNull(),
  highestC: real('highest_c').notNull(),
  hoursBelowSafe: real('hours_below_safe').notNull(),
  hoursAboveSafe: real('hours_above_safe').notNull(),
  transitHours: real('transit_hours').notNull(),
  decided: text('decided', { mode: 'json' }).$type<Decided>().notNull(),
  dispatchBefore: text('dispatch_before'),
  insteadOf: integer('instead_of'),
  batch: text('batch'),
  madeBy: text('made_by'),
  madeAt: integer('made_at').notNull(),
  takenAt: integer('taken_at'),
  endedBy: text('ended_by'),
  endedAt: integer('ended_at'),
});
