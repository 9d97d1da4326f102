import { integer, primaryKey, real, sqliteTable, text } from 'drizzle-orm/sqlite-core';

export const climateSensors = sqliteTable('climate_sensors', {
  id: integer('id').primaryKey(),
  placeId: integer('place_id').notNull(),
  name: text('name').notNull(),
  tokenHash: text('token_hash').notNull(),
  madeBy: text('made_by'),
  madeAt: integer('made_at').notNull(),
  retiredAt: integer('retired_at'),
});

export const climateReadings = sqliteTable('climate_readings', {
  id: integer('id').primaryKey(),
  placeId: integer('place_id').notNull(),
  at: integer('at').notNull(),
  onDay: text('on_day').notNull(),
  tempC: real('temp_c').notNull(),
  humidityPct: real('humidity_pct'),
  via: text('via', { enum: ['page', 'file', 'sensor', 'demo'] }).notNull(),
  sensorId: integer('sensor_id'),
  madeBy: text('made_by'),
  madeAt: integer('made_at').notNull(),
  withdrawnBy: text('withdrawn_by'),
  withdrawnAt: integer('withdrawn_at'),
});

/** What the readings of a day come to. */
export const climateDays = sqliteTable(
  'climate_days',
  {
    placeId: integer('place_id').notNull(),
    onDay: text('on_day').notNull(),
    readings: integer('readings').notNull(),
    minC: real('min_c').notNull(),
    maxC: real('max_c').notNull(),
    meanC: real('mean_c').notNull(),
    meanHumidityPct: real('mean_humidity_pct'),
    meanVpdKpa: real('mean_vpd_kpa'),
  },
  (t) => [primaryKey({ columns: [t.placeId, t.onDay] })],
);

/** For how long single readings are kept. */
export const climateKeeping = sqliteTable('climate_keeping', {
  id: integer('id').primaryKey(),
  days: integer('days').notNull(),
  changedAt: integer('changed_at').notNull(),
});

/** Days of which single readings are gone; what they came to stays in climate_days. */
export const climateClosedDays = sqliteTable(
  'climate_closed_days',
  {
    placeId: integer('place_id').notNull(),
    onDay: text('on_day').notNull(),
    readings: integer('readings').notNull(),
    closedAt: integer('closed_at').notNull(),
  },
  (t) => [primaryKey({ columns: [t.placeId, t.onDay] })],
);
