import { integer, primaryKey, sqliteTable, text } from 'drizzle-orm/sqlite-core';
import { languages } from '../../shared/settings/languages.ts';

const language = () => text('language', { enum: languages }).notNull();

/** Every care text that was ever saved; the newest of a species and a language is the one in use. */
export const careVersions = sqliteTable('care_versions', {
  id: integer('id').primaryKey(),
  speciesId: integer('species_id').notNull(),
  language: language(),
  commonName: text('common_name').notNull(),
  cautions: text('cautions').notNull(),
  againOf: integer('again_of'),
  madeBy: text('made_by'),
  madeAt: integer('made_at').notNull(),
});

export const careVersionTexts = sqliteTable(
  'care_version_texts',
  {
    versionId: integer('version_id').notNull(),
    heading: text('heading', {
      enum: ['enclosure', 'substrate', 'water', 'food', 'breeding', 'temperature', 'normal', 'not-normal'],
    }).notNull(),
    text: text('text').notNull(),
  },
  (t) => [primaryKey({ columns: [t.versionId, t.heading] })],
);

export const careVersionTerms = sqliteTable(
  'care_version_terms',
  {
    versionId: integer('version_id').notNull(),
    term: text('term').notNull(),
    words: text('words').notNull(),
  },
  (t) => [primaryKey({ columns: [t.versionId, t.term] })],
);

/** The care sheets that went into an order's box. */
export const orderCareSheets = sqliteTable('order_care_sheets', {
  id: integer('id').primaryKey(),
  orderId: integer('order_id').notNull(),
  position: integer('position').notNull(),
  cultureId: integer('culture_id').notNull(),
  versionId: integer('version_id'),
  language: language(),
  units: text('units', { enum: ['metric', 'us'] }).notNull(),
  paper: text('paper', { enum: ['A4', 'Letter'] }).notNull(),
  businessName: text('business_name').notNull(),
  sheet: text('sheet').notNull(),
  madeBy: text('made_by'),
  madeAt: integer('made_at').notNull(),
});
