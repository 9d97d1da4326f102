import { integer, primaryKey, sqliteTable, text } from 'drizzle-orm/sqlite-core';
import { languages } from '../../shared/settings/languages.ts';

export const business = sqliteTable('business', {
  id: integer('id').primaryKey(),
  name: text('name').notNull(),
  address: text('address').notNull(),
  email: text('email').notNull(),
  country: text('country').notNull(),
  timeZone: text('time_zone').notNull(),
  currency: text('currency').notNull(),
  locale: text('locale').notNull(),
  units: text('units', { enum: ['metric', 'us'] }).notNull(),
  paper: text('paper', { enum: ['A4', 'Letter'] }).notNull(),
  /** Of new customers, until they say otherwise. */
  language: text('language', { enum: languages }).notNull().default('en'),
  madeAt: integer('made_at').notNull(),
});

export const people = sqliteTable('people', {
  id: text('id').primaryKey(),
  signInName: text('sign_in_name').notNull(),
  name: text('name').notNull(),
  role: text('role', { enum: ['owner', 'helper'] }).notNull(),
  passwordHash: text('password_hash').notNull(),
  active: integer('active', { mode: 'boolean' }).notNull(),
  scheme: text('scheme', { enum: ['system', 'light', 'dark'] }).notNull(),
  madeAt: integer('made_at').notNull(),
  madeBy: text('made_by'),
});

export const sessions = sqliteTable('sessions', {
  id: text('id').primaryKey(),
  userId: text('user_id').notNull(),
  expiresAt: integer('expires_at').notNull(),
  madeAt: integer('made_at').notNull(),
  device: text('device').notNull(),
  notice: text('notice'),
  /** The last visit, to the tenth of an hour. */
  usedAt: integer('used_at'),
});

export const oneTimeLinks = sqliteTable('one_time_links', {
  tokenHash: text('token_hash').primaryKey(),
  purpose: text('purpose', { enum: ['set-up', 'invitation', 'reset'] }).notNull(),
  role: text('role', { enum: ['owner', 'helper'] }),
  name: text('name'),
  personId: text('person_id'),
  expiresAt: integer('expires_at').notNull(),
  usedAt: integer('used_at'),
  madeAt: integer('made_at').notNull(),
  madeBy: text('made_by'),
});

export const signInTries = sqliteTable('sign_in_tries', {
  id: integer('id').primaryKey(),
  accountHash: text('account_hash').notNull(),
  addressHash: text('address_hash').notNull(),
  triedAt: integer('tried_at').notNull(),
});

export const knownDevices = sqliteTable(
  'known_devices',
  {
    tokenHash: text('token_hash').notNull(),
    personId: text('person_id').notNull(),
    madeAt: integer('made_at').notNull(),
    usedAt: integer('used_at').notNull(),
  },
  (t) => [primaryKey({ columns: [t.tokenHash, t.personId] })],
);

export const formKeys = sqliteTable(
  'form_keys',
  {
    formKey: text('form_key').notNull(),
    personId: text('person_id').notNull(),
    path: text('path').notNull(),
    outcome: text('outcome').notNull(),
    madeAt: integer('made_at').notNull(),
  },
  (t) => [primaryKey({ columns: [t.personId, t.path, t.formKey] })],
);

export const audit = sqliteTable('audit', {
  id: integer('id').primaryKey(),
  at: integer('at').notNull(),
  personId: text('person_id'),
  action: text('action').notNull(),
  subject: text('subject').notNull(),
  before: text('before'),
  after: text('after'),
  /** See plumbing/audit.ts: rows from before the chain have none of these. */
  salt: text('salt'),
  bodyHash: text('body_hash'),
  chain: text('chain'),
});

/** Who read whose data: see plumbing/reads.ts. */
export const personalReads = sqliteTable('personal_reads', {
  id: integer('id').primaryKey(),
  onDay: text('on_day').notNull(),
  at: integer('at').notNull(),
  /** Null for a command, which whoever has the machine runs. */
  personId: text('person_id'),
  subject: text('subject').notNull(),
  way: text('way', { enum: ['page', 'paper', 'file', 'command'] }).notNull(),
});

export const secondFactors = sqliteTable('second_factors', {
  personId: text('person_id').primaryKey(),
  secret: text('secret').notNull(),
  confirmedAt: integer('confirmed_at'),
  lastStep: integer('last_step').notNull(),
  madeAt: integer('made_at').notNull(),
});

export const recoveryCodes = sqliteTable('recovery_codes', {
  codeHash: text('code_hash').primaryKey(),
  personId: text('person_id').notNull(),
  usedAt: integer('used_at'),
  madeAt: integer('made_at').notNull(),
});

export const halfSignIns = sqliteTable('half_sign_ins', {
  tokenHash: text('token_hash').primaryKey(),
  personId: text('person_id').notNull(),
  passwordPrint: text('password_print').notNull(),
  madeAt: integer('made_at').notNull(),
});

export const signInRules = sqliteTable('sign_in_rules', {
  id: integer('id').primaryKey(),
  secondFactor: text('second_factor', { enum: ['nobody', 'owners', 'everybody'] }).notNull(),
});

/** Somebody put the list of first steps away; one row or none. */
export const firstStepsAway = sqliteTable('first_steps_away', {
  id: integer('id').primaryKey(),
  madeBy: text('made_by'),
  madeAt: integer('made_at').notNull(),
});

/** How late it was when somebody last looked, and since when the clock has gone on without a leap; one row or none. */
export const clockSeen = sqliteTable('clock_seen', {
  id: integer('id').primaryKey(),
  latestAt: integer('latest_at').notNull(),
  steadySince: integer('steady_since').notNull(),
});
