import { integer, real, sqliteTable, text } from 'drizzle-orm/sqlite-core';
import { species } from './species.ts';

export const cups = sqliteTable('cups', {
  id: integer('id').primaryKey(),
  name: text('name').notNull(),
  lengthMm: real('length_mm').notNull(),
  widthMm: real('width_mm').notNull(),
  heightMm: real('height_mm').notNull(),
  emptyMassG: real('empty_mass_g'),
  note: text('note').notNull(),
  madeAt: integer('made_at').notNull(),
  retiredAt: integer('retired_at'),
});

export const speciesPacking = sqliteTable('species_packing', {
  speciesId: integer('species_id').primaryKey(),
  cupId: integer('cup_id'),
  animalsPerCup: integer('animals_per_cup'),
  animalMassMg: real('animal_mass_mg'),
  ventilation: text('ventilation').notNull(),
  padding: text('padding').notNull(),
});

export const groupPacking = sqliteTable('group_packing', {
  animalGroup: text('animal_group', { enum: species.animalGroup.enumValues }).primaryKey(),
  cupId: integer('cup_id'),
  animalsPerCup: integer('animals_per_cup'),
  ventilation: text('ventilation').notNull(),
  padding: text('padding').notNull(),
});

/** One row or none. */
export const packingHabits = sqliteTable('packing_habits', {
  id: integer('id').primaryKey(),
  cupId: integer('cup_id'),
  roomForPackMm: real('room_for_pack_mm').notNull(),
  customsHeading: text('customs_heading').notNull(),
});
