import { desc, eq, or, sql } from 'drizzle-orm';
import { alias } from 'drizzle-orm/sqlite-core';
import type { Contact } from '../../shared/lines/form.ts';
import type { Db } from '../plumbing/open-database.ts';
import { contacts, cultures, people, standingContacts } from '../schema/tables.ts';

/**
 * Every contact that is known, as the calculation takes them: cultures by their codes, orders by their numbers; from a
 * day on, or all. Splits, seeding, animals put in, feeders and harvests for orders stand in the diary; a lineage from
 * elsewhere may know of a split that no diary tells; the rest was written down by itself. By day.
 */
export function allContacts(db: Db, since = ''): Contact[] {
  return db.all<Contact>(sql`
    WITH known (on_day, from_id, to_id, kind) AS (
      SELECT on_day, culture_id, other_culture_id, 'split' FROM standing_diary
      WHERE kind = 'split' AND other_culture_id IS NOT NULL AND on_day >= ${since}
      UNION
      SELECT on_day, culture_id, other_culture_id, 'seeding' FROM standing_diary
      WHERE kind = 'split' AND other_culture_id IS NOT NULL AND on_day >= ${since} AND seeding_ml > 0
      UNION
      SELECT c.founded_on, p.parent_id, p.culture_id, 'split'
      -- in this order: the diary is then asked of the young cultures alone
      FROM cultures c CROSS JOIN culture_parents p ON p.culture_id = c.id
      WHERE c.founded_on >= ${since} AND NOT EXISTS (
        SELECT 1 FROM standing_diary d
        WHERE d.culture_id = p.parent_id AND d.kind = 'split' AND d.other_culture_id = p.culture_id)
      UNION
      SELECT on_day, culture_id, other_culture_id, 'addition' FROM standing_diary
      WHERE kind = 'harvest' AND other_culture_id IS NOT NULL AND on_day >= ${since}
      UNION
      SELECT on_day, other_culture_id, culture_id, 'addition' FROM standing_diary
      WHERE kind = 'addition' AND other_culture_id IS NOT NULL AND on_day >= ${since}
      UNION
      SELECT on_day, other_culture_id, culture_id, 'feeders' FROM standing_diary
      WHERE kind = 'feed' AND other_culture_id IS NOT NULL AND on_day >= ${since}
      UNION
      SELECT on_day, from_id, to_id, kind FROM standing_contacts WHERE on_day >= ${since}
    )
    SELECT k.on_day AS "date", f.code AS "from", t.code AS "to", k.kind AS kind
    FROM known k JOIN cultures f ON f.id = k.from_id JOIN cultures t ON t.id = k.to_id
    UNION
    SELECT d.on_day, f.code, CAST(o.number AS TEXT), 'order'
    FROM standing_diary d JOIN cultures f ON f.id = d.culture_id JOIN orders o ON o.id = d.order_id
    -- the plus keeps it to the entries that name an order
    WHERE d.kind = 'harvest' AND d.order_id IS NOT NULL AND +d.on_day >= ${since}
    ORDER BY 1, 2, 3, 4`);
}

export type NewContact = {
  onDay: string;
  fromId: number;
  toId: number;
  kind: 'shared tool' | 'seeding' | 'feeders';
  note?: string;
  /** The diary entry it is written along with. */
  diaryId?: number;
};
type By = { madeBy: string | null; madeAt: number };

/** Writes down a contact that the diary cannot tell. */
export function writeContact(tx: Db, contact: NewContact, { madeBy, madeAt }: By): number {
  const values = { ...contact, note: contact.note ?? '', madeBy, madeAt };
  return tx.insert(contacts).values(values).returning({ id: contacts.id }).get().id;
}

export type StandingContact = typeof standingContacts.$inferSelect;

export const standingContact = (db: Db, id: number): StandingContact | undefined =>
  db.select().from(standingContacts).where(eq(standingContacts.id, id)).get();

/** A contact as it was once written, whether it still stands or not. */
export const knownContact = (db: Db, id: number) =>
  db.select().from(contacts).where(eq(contacts.id, id)).get();

/** Takes a contact out: a later row says so. */
export function withdrawContact(tx: Db, contact: StandingContact, { madeBy, madeAt }: By) {
  const { id, ...rest } = contact;
  tx.insert(contacts)
    .values({ ...rest, withdrawsId: id, madeBy, madeAt })
    .run();
}

const writtenAlong = (db: Db, rootId: number) =>
  db.select().from(standingContacts).where(eq(standingContacts.diaryId, rootId)).all();

/** A diary entry was taken out: so are the contacts that were written along with it. */
export function withdrawContactsOf(tx: Db, rootId: number, by: By) {
  for (const contact of writtenAlong(tx, rootId)) withdrawContact(tx, contact, by);
}

/** A diary entry was put on another day: the contacts that were written along with it follow. */
export function moveContactsOf(tx: Db, rootId: number, onDay: string, by: By) {
  for (const contact of writtenAlong(tx, rootId)) {
    if (contact.onDay === onDay) continue;
    const { fromId, toId, kind, note } = contact;
    withdrawContact(tx, contact, by);
    writeContact(tx, { onDay, fromId, toId, kind, note, diaryId: rootId }, by);
  }
}

/** What was written down by itself of a culture's contacts, the latest first. */
export function writtenContacts(db: Db, cultureId: number, limit: number) {
  const from = alias(cultures, 'from_culture');
  const to = alias(cultures, 'to_culture');
  const s = standingContacts;
  return db
    .select({
      id: s.id,
      onDay: s.onDay,
      kind: s.kind,
      from: from.code,
      to: to.code,
      note: s.note,
      by: people.name,
    })
    .from(s)
    .innerJoin(from, eq(from.id, s.fromId))
    .innerJoin(to, eq(to.id, s.toId))
    .leftJoin(people, eq(people.id, s.madeBy))
    .where(or(eq(s.fromId, cultureId), eq(s.toId, cultureId)))
    .orderBy(desc(s.onDay), desc(s.id))
    .limit(limit)
    .all();
}
