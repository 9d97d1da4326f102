import { blob, integer, sqliteTable, text } from 'drizzle-orm/sqlite-core';

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
});
