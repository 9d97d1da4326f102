import { integer, real, sqliteTable, text } from 'drizzle-orm/sqlite-core';
import { dueKinds } from '../../shared/checks/care-due.ts';

const usualMethods = ['visible', 'sample', 'full'] as const;

/** How long a count takes at this business; one row or none. */
export const counting = sqliteTable('counting', {
  id: integer('id').primaryKey(),
  visibleMinutes: real('visible_minutes').notNull(),
  sampleMinutes: real('sample_minutes').notNull(),
  fullMinutes: real('full_minutes').notNull(),
  sampleShare: real('sample_share').notNull(),
});

export const countingUsual = sqliteTable('counting_usual', {
  animalGroup: text('animal_group').primaryKey(),
  method: text('method', { enum: usualMethods }).notNull(),
});

/** Counts asked of the round of a day. */
export const roundCounts = sqliteTable('round_counts', {
  id: integer('id').primaryKey(),
  cultureId: integer('culture_id').notNull(),
  onDay: text('on_day').notNull(),
  method: text('method', { enum: usualMethods }).notNull(),
  minutes: real('minutes').notNull(),
  gain: real('gain').notNull(),
  madeBy: text('made_by'),
  madeAt: integer('made_at').notNull(),
  undoneBy: text('undone_by'),
  undoneAt: integer('undone_at'),
});

/** Work that is due and waits until a day, for a reason. */
export const putOffs = sqliteTable('put_offs', {
  id: integer('id').primaryKey(),
  cultureId: integer('culture_id').notNull(),
  what: text('what', { enum: dueKinds }).notNull(),
  untilOn: text('until_on').notNull(),
  reason: text('reason').notNull(),
  madeBy: text('made_by'),
  madeAt: integer('made_at').notNull(),
  undoneBy: text('undone_by'),
  undoneAt: integer('undone_at'),
});

/** Feeder cultures that should be started and wait until a day, for a reason. */
export const startPutOffs = sqliteTable('start_put_offs', {
  id: integer('id').primaryKey(),
  feederId: integer('feeder_id').notNull(),
  untilOn: text('until_on').notNull(),
  reason: text('reason').notNull(),
  madeBy: text('made_by'),
  madeAt: integer('made_at').notNull(),
  undoneBy: text('undone_by'),
  undoneAt: integer('undone_at'),
});
