import { blob, integer, primaryKey, sqliteTable, text } from 'drizzle-orm/sqlite-core';

export const imports = sqliteTable('imports', {
  id: integer('id').primaryKey(),
  kind: text('kind', { enum: ['cultures', 'diary'] }).notNull(),
  fileName: text('file_name').notNull(),
  state: text('state', { enum: ['done', 'undoing', 'undone'] }).notNull(),
  mapping: text('mapping').notNull(),
  broughtIn: integer('brought_in').notNull(),
  alreadyThere: integer('already_there').notNull(),
  leftOut: text('left_out').notNull(),
  madeBy: text('made_by'),
  madeAt: integer('made_at').notNull(),
  undoneBy: text('undone_by'),
  undoneAt: integer('undone_at'),
  /** The first import of those that came in together; null for that one itself. */
  firstId: integer('first_id'),
});

export const importPrints = sqliteTable('import_prints', {
  print: text('print').primaryKey(),
  importId: integer('import_id').notNull(),
});

export const importDrafts = sqliteTable('import_drafts', {
  id: text('id').primaryKey(),
  fileName: text('file_name').notNull(),
  bytes: blob('bytes', { mode: 'buffer' }).notNull(),
  mapping: text('mapping'),
  madeBy: text('made_by').notNull(),
  madeAt: integer('made_at').notNull(),
  uploadId: text('upload_id'),
  position: integer('position').notNull().default(0),
});

export const importUploads = sqliteTable('import_uploads', {
  id: text('id').primaryKey(),
  choices: text('choices').notNull(),
  version: integer('version').notNull(),
  madeBy: text('made_by').notNull(),
  madeAt: integer('made_at').notNull(),
});

/** Cultures that were there before an import wrote into their diary, and how they stood. */
export const importTouched = sqliteTable(
  'import_touched',
  {
    importId: integer('import_id').notNull(),
    cultureId: integer('culture_id').notNull(),
    placeId: integer('place_id'),
    status: text('status', { enum: ['active', 'quarantine', 'retired'] }).notNull(),
  },
  (t) => [primaryKey({ columns: [t.importId, t.cultureId] })],
);
