import { integer, sqliteTable, text } from 'drizzle-orm/sqlite-core';
import { species } from './species.ts';

export const movementRules = sqliteTable('movement_rules', {
  id: integer('id').primaryKey(),
  name: text('name').notNull(),
  fromCountry: text('from_country'),
  fromRegion: text('from_region'),
  toCountry: text('to_country'),
  toRegion: text('to_region'),
  border: text('border', { enum: ['any', 'region', 'country'] }).notNull(),
  about: text('about', { enum: ['all', 'group', 'genus', 'species'] }).notNull(),
  animalGroup: text('animal_group', { enum: species.animalGroup.enumValues }),
  genus: text('genus'),
  speciesId: integer('species_id'),
  effect: text('effect', { enum: ['block', 'permit', 'warn'] }).notNull(),
  words: text('words').notNull(),
  source: text('source').notNull(),
  checkedOn: text('checked_on'),
  permitNumber: text('permit_number').notNull(),
  permitExpiresOn: text('permit_expires_on'),
  madeAt: integer('made_at').notNull(),
  retiredAt: integer('retired_at'),
});

/** One row or none. */
export const movementOrigin = sqliteTable('movement_origin', {
  id: integer('id').primaryKey(),
  region: text('region').notNull(),
});
