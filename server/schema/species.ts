import { integer, primaryKey, real, sqliteTable, text } from 'drizzle-orm/sqlite-core';

export const enclosures = sqliteTable('enclosures', {
  id: integer('id').primaryKey(),
  name: text('name').notNull(),
  shape: text('shape', { enum: ['box', 'cylinder', 'frustum'] }).notNull(),
  lengthMm: real('length_mm'),
  widthMm: real('width_mm'),
  heightMm: real('height_mm').notNull(),
  diameterMm: real('diameter_mm'),
  topDiameterMm: real('top_diameter_mm'),
  bottomDiameterMm: real('bottom_diameter_mm'),
  substrateDepthMm: real('substrate_depth_mm').notNull(),
  ventilation: text('ventilation').notNull(),
  measured: integer('measured', { mode: 'boolean' }).notNull(),
  importId: integer('import_id'),
  retiredAt: integer('retired_at'),
});

export const places = sqliteTable('places', {
  id: integer('id').primaryKey(),
  parentId: integer('parent_id'),
  kind: text('kind', { enum: ['room', 'rack', 'shelf', 'position'] }).notNull(),
  name: text('name').notNull(),
  fullName: text('full_name').notNull(),
  shelfOrder: text('shelf_order').notNull(),
  importId: integer('import_id'),
  retiredAt: integer('retired_at'),
});

export const species = sqliteTable('species', {
  id: integer('id').primaryKey(),
  scientificName: text('scientific_name').notNull(),
  commonName: text('common_name').notNull(),
  animalGroup: text('animal_group', {
    enum: [
      'isopod',
      'springtail',
      'pseudoscorpion',
      'roach',
      'beetle',
      'millipede',
      'mantid',
      'fly',
      'other',
    ],
  }).notNull(),
  sellable: integer('sellable', { mode: 'boolean' }).notNull(),
  groupAdults: integer('group_adults').notNull(),
  groupJuveniles: integer('group_juveniles').notNull(),
  groupExtras: integer('group_extras').notNull(),
  priceMinor: integer('price_minor').notNull(),
  growthPerWeekMedian: real('growth_per_week_median').notNull(),
  growthSdLog: real('growth_sd_log').notNull(),
  capacityPerLitreMedian: real('capacity_per_litre_median').notNull(),
  capacitySdLog: real('capacity_sd_log').notNull(),
  processSd: real('process_sd').notNull(),
  detectionAlpha: real('detection_alpha').notNull(),
  detectionBeta: real('detection_beta').notNull(),
  adultAlpha: real('adult_alpha').notNull(),
  adultBeta: real('adult_beta').notNull(),
  reserveAnimals: integer('reserve_animals').notNull(),
  reserveShare: real('reserve_share').notNull(),
  confidence: real('confidence').notNull(),
  femaleShare: real('female_share').notNull(),
  startMales: integer('start_males').notNull(),
  startFemales: integer('start_females').notNull(),
  generationDays: integer('generation_days').notNull(),
  effectiveRatio: real('effective_ratio').notNull(),
  checkEveryDays: integer('check_every_days').notNull(),
  feedEveryDays: integer('feed_every_days').notNull(),
  /** Months after which old substrate is renewed; null: never. */
  substrateMonths: integer('substrate_months'),
  lethalLowC: real('lethal_low_c').notNull(),
  safeLowC: real('safe_low_c').notNull(),
  idealLowC: real('ideal_low_c').notNull(),
  idealHighC: real('ideal_high_c').notNull(),
  safeHighC: real('safe_high_c').notNull(),
  lethalHighC: real('lethal_high_c').notNull(),
  homeEnclosureId: integer('home_enclosure_id'),
  cautions: text('cautions').notNull(),
  importId: integer('import_id'),
  retiredAt: integer('retired_at'),
});

export const speciesCare = sqliteTable(
  'species_care',
  {
    speciesId: integer('species_id').notNull(),
    heading: text('heading', {
      enum: ['enclosure', 'substrate', 'water', 'food', 'breeding', 'temperature', 'normal', 'not-normal'],
    }).notNull(),
    text: text('text').notNull(),
  },
  (t) => [primaryKey({ columns: [t.speciesId, t.heading] })],
);

export const speciesLayers = sqliteTable('species_layers', {
  id: integer('id').primaryKey(),
  speciesId: integer('species_id').notNull(),
  position: integer('position').notNull(),
  name: text('name').notNull(),
  depthMm: real('depth_mm').notNull(),
});

export const speciesLayerParts = sqliteTable(
  'species_layer_parts',
  {
    layerId: integer('layer_id').notNull(),
    position: integer('position').notNull(),
    material: text('material').notNull(),
    parts: real('parts').notNull(),
    settling: real('settling').notNull(),
  },
  (t) => [primaryKey({ columns: [t.layerId, t.position] })],
);
