import { integer, primaryKey, real, sqliteTable, text } from 'drizzle-orm/sqlite-core';

/** How long a stage of a species took at two temperatures, and who says so. */
export const speciesStages = sqliteTable(
  'species_stages',
  {
    speciesId: integer('species_id').notNull(),
    stage: text('stage', { enum: ['hatch', 'adult'] }).notNull(),
    coolC: real('cool_c').notNull(),
    coolDays: real('cool_days').notNull(),
    warmC: real('warm_c').notNull(),
    warmDays: real('warm_days').notNull(),
    source: text('source').notNull(),
  },
  (t) => [primaryKey({ columns: [t.speciesId, t.stage] })],
);
