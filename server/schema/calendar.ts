import { integer, sqliteTable, text } from 'drizzle-orm/sqlite-core';

export const calendarFeeds = sqliteTable('calendar_feeds', {
  id: integer('id').primaryKey(),
  personId: text('person_id').notNull(),
  tokenHash: text('token_hash').notNull(),
  madeAt: integer('made_at').notNull(),
  usedAt: integer('used_at'),
  endedAt: integer('ended_at'),
});
