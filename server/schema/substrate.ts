import { integer, primaryKey, real, sqliteTable, text } from 'drizzle-orm/sqlite-core';

/** A split or a repot somebody means to do on a day. */
export const culturePlans = sqliteTable('culture_plans', {
  id: integer('id').primaryKey(),
  cultureId: integer('culture_id').notNull(),
  what: text('what', { enum: ['split', 'repot'] }).notNull(),
  onDay: text('on_day').notNull(),
  enclosureId: integer('enclosure_id').notNull(),
  enclosures: integer('enclosures').notNull(),
  madeOn: text('made_on').notNull(),
  /** The diary's last entry when it was planned. */
  afterEntry: integer('after_entry').notNull(),
  madeBy: text('made_by'),
  madeAt: integer('made_at').notNull(),
  ended: text('ended', { enum: ['cancelled', 'done'] }),
  endedBy: text('ended_by'),
  endedAt: integer('ended_at'),
});

export const recipeLayers = sqliteTable('recipe_layers', {
  id: integer('id').primaryKey(),
  speciesId: integer('species_id').notNull(),
  enclosureId: integer('enclosure_id').notNull(),
  position: integer('position').notNull(),
  name: text('name').notNull(),
  depthMm: real('depth_mm').notNull(),
});

export const recipeLayerParts = sqliteTable(
  'recipe_layer_parts',
  {
    layerId: integer('layer_id').notNull(),
    position: integer('position').notNull(),
    material: text('material').notNull(),
    parts: real('parts').notNull(),
    settling: real('settling').notNull(),
  },
  (t) => [primaryKey({ columns: [t.layerId, t.position] })],
);

export const materials = sqliteTable('materials', {
  name: text('name').primaryKey(),
  inHandLitres: real('in_hand_litres'),
  bagLitres: real('bag_litres'),
});

/** How substrate is mixed at this business; one row or none. */
export const mixing = sqliteTable('mixing', {
  id: integer('id').primaryKey(),
  spareShare: real('spare_share').notNull(),
});
