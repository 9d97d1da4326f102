import { integer, primaryKey, real, sqliteTable } from 'drizzle-orm/sqlite-core';

/** A species that is kept to be eaten, and what one culture of it does. */
export const feederSpecies = sqliteTable('feeder_species', {
  speciesId: integer('species_id').primaryKey(),
  leadDays: integer('lead_days').notNull(),
  productiveDays: integer('productive_days').notNull(),
  yield: real('yield').notNull(),
  seedAdults: real('seed_adults').notNull(),
  safety: real('safety').notNull(),
});

/** What an enclosure of a species eats of a feeder in a week when it is full. */
export const feederDiets = sqliteTable(
  'feeder_diets',
  {
    speciesId: integer('species_id').notNull(),
    feederId: integer('feeder_id').notNull(),
    perWeek: real('per_week').notNull(),
  },
  (t) => [primaryKey({ columns: [t.speciesId, t.feederId] })],
);
