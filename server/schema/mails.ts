import { integer, sqliteTable, text } from 'drizzle-orm/sqlite-core';
import { languages } from '../../shared/settings/languages.ts';

export const mails = sqliteTable('mails', {
  id: integer('id').primaryKey(),
  kind: text('kind', {
    enum: ['order confirmed', 'order sent', 'order held', 'test', 'warning', 'requests', 'account'],
  }).notNull(),
  /** The step it tells of: a second mail about the same one cannot be written. */
  tellsOf: text('tells_of').notNull(),
  orderId: integer('order_id'),
  toName: text('to_name').notNull(),
  toAddress: text('to_address').notNull(),
  language: text('language', { enum: languages }).notNull(),
  subject: text('subject').notNull(),
  plain: text('plain').notNull(),
  html: text('html').notNull(),
  withCareSheets: integer('with_care_sheets', { mode: 'boolean' }).notNull(),
  messageId: text('message_id').notNull(),
  state: text('state', {
    enum: ['waiting', 'sending', 'sent', 'unsure', 'refused', 'too late', 'stopped'],
  }).notNull(),
  tries: integer('tries').notNull().default(0),
  nextTryAt: integer('next_try_at').notNull(),
  giveUpAt: integer('give_up_at').notNull(),
  /** What the mail server said last, or why it was not reached. */
  answer: text('answer').notNull().default(''),
  settledAt: integer('settled_at'),
  madeBy: text('made_by'),
  madeAt: integer('made_at').notNull(),
});
