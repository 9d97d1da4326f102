import { blob, integer, primaryKey, real, sqliteTable, text } from 'drizzle-orm/sqlite-core';

export const countPhotos = sqliteTable('count_photos', {
  id: integer('id').primaryKey(),
  cultureId: integer('culture_id').notNull(),
  /** The place in the diary of the count it was tapped for; null until that is written down. */
  diaryId: integer('diary_id'),
  widthPx: integer('width_px').notNull(),
  heightPx: integer('height_px').notNull(),
  sha256: text('sha256').notNull(),
  taps: text('taps').notNull(),
  madeBy: text('made_by').notNull(),
  madeAt: integer('made_at').notNull(),
});

export const countPhotoFiles = sqliteTable('count_photo_files', {
  photoId: integer('photo_id').primaryKey(),
  bytes: blob('bytes', { mode: 'buffer' }).notNull(),
});

export const detectionUpdates = sqliteTable('detection_updates', {
  id: integer('id').primaryKey(),
  speciesId: integer('species_id').notNull(),
  beforeAlpha: real('before_alpha').notNull(),
  beforeBeta: real('before_beta').notNull(),
  afterAlpha: real('after_alpha').notNull(),
  afterBeta: real('after_beta').notNull(),
  /** How many visits the belief rests on afterwards. */
  visits: real('visits').notNull(),
  madeBy: text('made_by'),
  madeAt: integer('made_at').notNull(),
});

export const detectionPairs = sqliteTable(
  'detection_pairs',
  {
    updateId: integer('update_id').notNull(),
    visibleId: integer('visible_id').notNull(),
    fullId: integer('full_id').notNull(),
    visibleOn: text('visible_on').notNull(),
    fullOn: text('full_on').notNull(),
    seen: integer('seen').notNull(),
    counted: integer('counted').notNull(),
  },
  (t) => [primaryKey({ columns: [t.visibleId, t.fullId] })],
);
