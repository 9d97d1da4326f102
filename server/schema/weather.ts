import { integer, primaryKey, real, sqliteTable, text } from 'drizzle-orm/sqlite-core';
import { serviceKeys } from '../../shared/parcels/weather-form.ts';

export const weatherPlaces = sqliteTable('weather_places', {
  id: integer('id').primaryKey(),
  name: text('name').notNull(),
  label: text('label').notNull(),
  part: text('part', { enum: ['origin', 'hub', 'destination'] }).notNull(),
  latitude: real('latitude').notNull(),
  longitude: real('longitude').notNull(),
  madeAt: integer('made_at').notNull(),
  retiredAt: integer('retired_at'),
});

export const weatherDays = sqliteTable(
  'weather_days',
  {
    placeId: integer('place_id').notNull(),
    onDay: text('on_day').notNull(),
    source: text('source').notNull(),
    minC: real('min_c').notNull(),
    maxC: real('max_c').notNull(),
    forecastAt: integer('forecast_at').notNull(),
    via: text('via', { enum: ['page', 'file', 'service', 'demo'] }).notNull(),
    madeBy: text('made_by'),
    madeAt: integer('made_at').notNull(),
  },
  (t) => [primaryKey({ columns: [t.placeId, t.onDay, t.source] })],
);

export const weatherServices = sqliteTable('weather_services', {
  service: text('service', { enum: serviceKeys }).primaryKey(),
  isOn: integer('is_on', { mode: 'boolean' }).notNull(),
  address: text('address').notNull(),
  contact: text('contact').notNull(),
  changedAt: integer('changed_at').notNull(),
  pausedUntil: integer('paused_until'),
});

export const weatherFetches = sqliteTable(
  'weather_fetches',
  {
    placeId: integer('place_id').notNull(),
    service: text('service', { enum: serviceKeys }).notNull(),
    askedAt: integer('asked_at').notNull(),
    nextAt: integer('next_at').notNull(),
    lastModified: text('last_modified'),
    failures: integer('failures').notNull(),
    trouble: text('trouble'),
  },
  (t) => [primaryKey({ columns: [t.placeId, t.service] })],
);
