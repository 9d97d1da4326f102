import { and, desc, eq, gte, lt, lte, sql } from 'drizzle-orm';
import type { Db } from '../plumbing/open-database.ts';
import { people, personalReads } from '../schema/tables.ts';
import type { RowsAsked } from './queries-changes.ts';

/** Whoever runs a command is signed in nowhere. */
const unnamed = 'by command on the machine';

/** Who read whose data, the newest first, at most `most`. */
export function listReads(db: Db, { who, subject, from, until, before }: RowsAsked, most: number) {
  const { id, at, way } = personalReads;
  const found = subject && `%${subject.replace(/[\\%_]/g, (sign) => `\\${sign}`)}%`;
  return db
    .select({
      id,
      at,
      way,
      subject: personalReads.subject,
      who: sql<string>`coalesce(${people.name}, ${unnamed})`,
    })
    .from(personalReads)
    .leftJoin(people, eq(people.id, personalReads.personId))
    .where(
      and(
        lt(id, before ?? Number.MAX_SAFE_INTEGER),
        who === null ? undefined : eq(personalReads.personId, who),
        found === null ? undefined : sql`${personalReads.subject} LIKE ${found} ESCAPE '\\'`,
        from === null ? undefined : gte(at, from),
        until === null ? undefined : lt(at, until),
      ),
    )
    .orderBy(desc(id))
    .limit(most)
    .all();
}

const keptMs = 400 * 86_400_000;

/** Takes out what was read more than 400 days before the newest read, as far as the database lets go of it. */
export function forgetReads(db: Db, now: number): number {
  const newest = sql`(SELECT max(at) FROM personal_reads)`;
  const old = and(lte(personalReads.at, now - keptMs), sql`${personalReads.at} <= ${newest} - ${keptMs}`);
  return db.delete(personalReads).where(old).run().changes;
}
