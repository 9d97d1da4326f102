import { and, count, eq, gt, max, sql } from 'drizzle-orm';
import type { Db } from '../plumbing/open-database.ts';
import { people, sessions } from '../schema/tables.ts';

export type PersonRow = typeof people.$inferSelect;

/** What stands for a password hash while none is set; it matches nothing. */
export const noPassword = 'none';

export function findPerson(db: Db, id: string): PersonRow | undefined {
  return db.select().from(people).where(eq(people.id, id)).get();
}

/** By the name as sign-in-name.ts tidies it. */
export function personNamed(db: Db, signInName: string): PersonRow | undefined {
  return db.select().from(people).where(eq(people.signInName, signInName)).get();
}

export type NewPerson = Pick<PersonRow, 'id' | 'signInName' | 'name' | 'role' | 'passwordHash' | 'madeAt'> & {
  madeBy?: string | null;
};

export function addPerson(tx: Db, person: NewPerson): void {
  tx.insert(people)
    .values({ ...person, active: true, scheme: 'system' })
    .run();
}

type Changes = Partial<Pick<PersonRow, 'name' | 'role' | 'active' | 'scheme' | 'passwordHash'>>;

export function changePerson(tx: Db, id: string, changes: Changes): void {
  tx.update(people).set(changes).where(eq(people.id, id)).run();
}

/** Owners who can sign in, other than this one. */
export function otherActiveOwners(db: Db, id: string): number {
  const row = db
    .select({ others: count() })
    .from(people)
    .where(and(eq(people.role, 'owner'), eq(people.active, true), sql`${people.id} <> ${id}`))
    .get();
  return row?.others ?? 0;
}

export type ListedPerson = Pick<PersonRow, 'id' | 'name' | 'signInName' | 'role' | 'active' | 'madeAt'> & {
  openSessions: number;
  lastSessionAt: number | null;
  waitsForPassword: boolean;
};

/** Everybody, the active first, by name; with the sessions that are open now. */
export function listPeople(db: Db, now: number): ListedPerson[] {
  return db
    .select({
      id: people.id,
      name: people.name,
      signInName: people.signInName,
      role: people.role,
      active: people.active,
      madeAt: people.madeAt,
      openSessions: count(sessions.id),
      lastSessionAt: max(sessions.madeAt),
      waitsForPassword: sql<number>`${people.passwordHash} = ${noPassword}`.mapWith(Boolean),
    })
    .from(people)
    .leftJoin(sessions, and(eq(sessions.userId, people.id), gt(sessions.expiresAt, Math.floor(now / 1000))))
    .groupBy(people.id)
    .orderBy(sql`${people.active} DESC`, sql`${people.name} COLLATE NOCASE`)
    .all();
}
