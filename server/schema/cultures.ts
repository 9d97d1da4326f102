import { integer, primaryKey, real, sqliteTable, sqliteView, text } from 'drizzle-orm/sqlite-core';
import { lookedFor, renewals } from '../../shared/checks/form.ts';

export const lines = sqliteTable('lines', {
  id: integer('id').primaryKey(),
  speciesId: integer('species_id').notNull(),
  name: text('name').notNull(),
  locality: text('locality').notNull(),
  note: text('note').notNull(),
  importId: integer('import_id'),
  /** Mixed like any other, with nothing but itself, or within its own locality only. */
  keptPure: text('kept_pure', { enum: ['no', 'line', 'locality'] })
    .notNull()
    .default('no'),
});

/** Two lines that are never mixed, the smaller id first. */
export const linesApart = sqliteTable(
  'lines_apart',
  {
    lineId: integer('line_id').notNull(),
    otherLineId: integer('other_line_id').notNull(),
  },
  (t) => [primaryKey({ columns: [t.lineId, t.otherLineId] })],
);

export const cultures = sqliteTable('cultures', {
  id: integer('id').primaryKey(),
  code: text('code').notNull(),
  speciesId: integer('species_id').notNull(),
  morph: text('morph').notNull(),
  lineId: integer('line_id'),
  enclosureId: integer('enclosure_id').notNull(),
  placeId: integer('place_id'),
  foundedOn: text('founded_on').notNull(),
  origin: text('origin', { enum: ['wild', 'bought', 'split', 'unknown'] }).notNull(),
  foundingAnimals: integer('founding_animals').notNull(),
  foundingSdLog: real('founding_sd_log').notNull(),
  status: text('status', { enum: ['active', 'quarantine', 'retired'] }).notNull(),
  note: text('note').notNull(),
  importId: integer('import_id'),
  madeBy: text('made_by'),
  madeAt: integer('made_at').notNull(),
  takenBackAt: integer('taken_back_at'),
});

export const cultureParents = sqliteTable(
  'culture_parents',
  {
    cultureId: integer('culture_id').notNull(),
    parentId: integer('parent_id').notNull(),
    animals: integer('animals').notNull(),
  },
  (t) => [primaryKey({ columns: [t.cultureId, t.parentId] })],
);

const diaryKinds = [
  'check',
  'count',
  'water',
  'feed',
  'fruit-in',
  'fruit-out',
  'harvest',
  'addition',
  'split',
  'die-off',
  'mites',
  'mould',
  'move',
  'quarantine',
  'release',
  'retirement',
  'note',
] as const;
export type DiaryKind = (typeof diaryKinds)[number];

// Built anew for the table and for the view of what stands: a column builder belongs to one of them.
const diaryColumns = () => ({
  id: integer('id').primaryKey(),
  cultureId: integer('culture_id').notNull(),
  onDay: text('on_day').notNull(),
  kind: text('kind', { enum: diaryKinds }).notNull(),
  rootId: integer('root_id'),
  replacesId: integer('replaces_id'),
  withdrawn: integer('withdrawn', { mode: 'boolean' }).notNull(),
  animals: integer('animals'),
  adults: integer('adults'),
  juveniles: integer('juveniles'),
  otherCultureId: integer('other_culture_id'),
  seedingMl: real('seeding_ml'),
  surface: text('surface', { enum: ['wet', 'moist', 'dry'] }),
  springtails: text('springtails', { enum: ['none', 'few', 'some', 'many'] }),
  springtailsWhere: text('springtails_where', { enum: ['low', 'ranging'] }),
  feedersLeft: text('feeders_left', { enum: ['none', 'few', 'plenty'] }),
  youngSeen: integer('young_seen', { mode: 'boolean' }),
  eggsSeen: integer('eggs_seen', { mode: 'boolean' }),
  mouldSeen: integer('mould_seen', { mode: 'boolean' }),
  mitesSeen: integer('mites_seen', { mode: 'boolean' }),
  deaths: integer('deaths'),
  countInput: text('count_input'),
  wording: text('wording'),
  waterMl: real('water_ml'),
  food: text('food'),
  survivalMedian: real('survival_median'),
  survivalSdLog: real('survival_sd_log'),
  placeId: integer('place_id'),
  orderId: integer('order_id'),
  note: text('note').notNull(),
  via: text('via', { enum: ['page', 'import', 'packing', 'demo'] }).notNull(),
  importId: integer('import_id'),
  madeBy: text('made_by'),
  madeAt: integer('made_at').notNull(),
  /** Who it is by in the words of a file that was brought in. */
  saidBy: text('said_by'),
  /** What a look was looking for, and whether it found it. */
  lookedFor: text('looked_for', { enum: lookedFor }),
  /** Substrate was renewed: some of the old mixed in, or all of it new. */
  substrate: text('substrate', { enum: renewals }),
});

export const diary = sqliteTable('diary', diaryColumns());
/** The entries that stand: not withdrawn and not replaced by a later one. */
export const standingDiary = sqliteView('standing_diary', diaryColumns()).existing();

const contactColumns = () => ({
  id: integer('id').primaryKey(),
  onDay: text('on_day').notNull(),
  fromId: integer('from_id').notNull(),
  toId: integer('to_id').notNull(),
  kind: text('kind', { enum: ['shared tool', 'seeding', 'feeders'] }).notNull(),
  note: text('note').notNull(),
  diaryId: integer('diary_id'),
  withdrawsId: integer('withdraws_id'),
  madeBy: text('made_by'),
  madeAt: integer('made_at').notNull(),
});

/** Contacts that the diary cannot tell; see the diary's own columns for the others. */
export const contacts = sqliteTable('contacts', contactColumns());
/** Those that no later row withdraws. */
export const standingContacts = sqliteView('standing_contacts', contactColumns()).existing();
