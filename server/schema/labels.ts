import { integer, real, sqliteTable, text } from 'drizzle-orm/sqlite-core';

export const labelSheets = sqliteTable('label_sheets', {
  id: integer('id').primaryKey(),
  name: text('name').notNull(),
  columns: integer('columns').notNull(),
  rows: integer('rows').notNull(),
  marginTopMm: real('margin_top_mm').notNull(),
  marginLeftMm: real('margin_left_mm').notNull(),
  marginRightMm: real('margin_right_mm'),
  marginBottomMm: real('margin_bottom_mm'),
  gapAcrossMm: real('gap_across_mm').notNull(),
  gapDownMm: real('gap_down_mm').notNull(),
  labelWidthMm: real('label_width_mm'),
  labelHeightMm: real('label_height_mm'),
  cutLines: integer('cut_lines', { mode: 'boolean' }).notNull(),
  /** The first unused label of the sheet in the printer, counted from 1 along the rows. */
  nextLabel: integer('next_label').notNull(),
});

export const labelPrints = sqliteTable('label_prints', {
  id: integer('id').primaryKey(),
  cultureId: integer('culture_id').notNull(),
  code: text('code').notNull(),
  printedBy: text('printed_by'),
  printedAt: integer('printed_at').notNull(),
});
