import { blob, integer, primaryKey, real, sqliteTable, text } from 'drizzle-orm/sqlite-core';

export const populationStates = sqliteTable(
  'population_states',
  {
    cultureId: integer('culture_id').notNull(),
    onDay: text('on_day').notNull(),
    position: integer('position').notNull(),
    events: integer('events').notNull(),
    basis: text('basis').notNull(),
    state: blob('state', { mode: 'buffer' }).notNull(),
  },
  (t) => [primaryKey({ columns: [t.cultureId, t.onDay, t.position] })],
);

export const estimatePoints = sqliteTable(
  'estimate_points',
  {
    cultureId: integer('culture_id').notNull(),
    onDay: text('on_day').notNull(),
    position: integer('position').notNull(),
    beforeMedian: real('before_median').notNull(),
    beforeLower: real('before_lower').notNull(),
    beforeUpper: real('before_upper').notNull(),
    afterMedian: real('after_median').notNull(),
    afterLower: real('after_lower').notNull(),
    afterUpper: real('after_upper').notNull(),
  },
  (t) => [primaryKey({ columns: [t.cultureId, t.onDay, t.position] })],
);

export const cultureEstimates = sqliteTable('culture_estimates', {
  cultureId: integer('culture_id').primaryKey(),
  asOf: text('as_of').notNull(),
  workedOutAt: integer('worked_out_at').notNull(),
  fault: text('fault'),
  mean: real('mean'),
  median: real('median'),
  lower: real('lower'),
  upper: real('upper'),
  growthMedian: real('growth_median'),
  growthLower: real('growth_lower'),
  growthUpper: real('growth_upper'),
  capacityMedian: real('capacity_median'),
  capacityLower: real('capacity_lower'),
  capacityUpper: real('capacity_upper'),
  fullnessMedian: real('fullness_median'),
  fullnessLower: real('fullness_lower'),
  fullnessUpper: real('fullness_upper'),
  extinct: real('extinct'),
  reserve: real('reserve'),
  promisable: integer('promisable').notNull(),
  spareAnimals: integer('spare_animals').notNull(),
  spareGroups: integer('spare_groups').notNull(),
  sustainableMedian: real('sustainable_median'),
  sustainableLower: real('sustainable_lower'),
  sustainableUpper: real('sustainable_upper'),
  readyOn: text('ready_on'),
  limitedBy: text('limited_by', { enum: ['count too old', 'reserve', 'adults', 'promised', 'health'] }),
  health: text('health', { enum: ['well', 'mites', 'mould', 'die-off', 'quarantine'] })
    .notNull()
    .default('well'),
  lastCountOn: text('last_count_on'),
  lastCheckOn: text('last_check_on'),
  forecast: text('forecast'),
});
