import { and, eq, ne, sql } from 'drizzle-orm';
import type { EnclosureValues } from '../../shared/enclosures/form.ts';
import type { Db } from '../plumbing/open-database.ts';
import { cultures, enclosures } from '../schema/tables.ts';

export type Enclosure = typeof enclosures.$inferSelect;

// Written out: inside a select of one table the columns would lose the names of their tables.
const culturesIn = sql<number>`(SELECT count(*) FROM cultures
  WHERE cultures.enclosure_id = enclosures.id AND cultures.status <> 'retired')`;
const homesOf = sql<number>`(SELECT count(*) FROM species
  WHERE species.home_enclosure_id = enclosures.id AND species.retired_at IS NULL)`;
const byNumber = new Intl.Collator('en', { numeric: true });

/** All enclosures by name, those no longer used last, with how many cultures and species use each. */
export function listEnclosures(db: Db) {
  return db
    .select({ enclosure: enclosures, cultures: culturesIn, homes: homesOf })
    .from(enclosures)
    .all()
    .sort(
      (a, b) =>
        Number(a.enclosure.retiredAt !== null) - Number(b.enclosure.retiredAt !== null) ||
        byNumber.compare(a.enclosure.name, b.enclosure.name),
    );
}

export function readEnclosure(db: Db, id: number): Enclosure | undefined {
  return db.select().from(enclosures).where(eq(enclosures.id, id)).get();
}

export function enclosureNamed(db: Db, name: string): Enclosure | undefined {
  return db.select().from(enclosures).where(eq(enclosures.name, name)).get();
}

/** Those that a form may offer: in use, and the one that is chosen already. */
export function offeredEnclosures(db: Db, chosenId: number | null = null): Enclosure[] {
  return db
    .select()
    .from(enclosures)
    .where(sql`${enclosures.retiredAt} IS NULL OR ${enclosures.id} = ${chosenId}`)
    .all()
    .sort((a, b) => byNumber.compare(a.name, b.name));
}

export function insertEnclosure(tx: Db, values: EnclosureValues): number {
  return tx
    .insert(enclosures)
    .values({ ...values, measured: true })
    .returning({ id: enclosures.id })
    .get().id;
}

export function updateEnclosure(tx: Db, id: number, values: EnclosureValues) {
  tx.update(enclosures)
    .set({ ...values, measured: true })
    .where(eq(enclosures.id, id))
    .run();
}

export function setEnclosureRetired(tx: Db, id: number, retiredAt: number | null) {
  tx.update(enclosures).set({ retiredAt }).where(eq(enclosures.id, id)).run();
}

/** Ids of the cultures that live in an enclosure of this kind. */
export function culturesInEnclosure(db: Db, id: number): number[] {
  return db
    .select({ id: cultures.id })
    .from(cultures)
    .where(and(eq(cultures.enclosureId, id), ne(cultures.status, 'retired')))
    .all()
    .map((c) => c.id);
}
