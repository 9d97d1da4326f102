import { and, asc, desc, eq, gt, gte, isNull, lt, type SQL, sql } from 'drizzle-orm';
import { bodyHashOf, chainOf } from '../plumbing/audit.ts';
import type { Db } from '../plumbing/open-database.ts';
import { audit, people } from '../schema/tables.ts';

export type Change = typeof audit.$inferSelect;
export type ListedChange = Pick<Change, 'id' | 'at' | 'action' | 'subject' | 'before' | 'after' | 'chain'> & {
  who: string | null;
};

const holds = (text: string) => {
  const found = `%${text.replace(/[\\%_]/g, (sign) => `\\${sign}`)}%`;
  return sql`(${audit.action} || ' ' || ${audit.subject}) LIKE ${found} ESCAPE '\\'`;
};

/** Which rows of a record are looked for. */
export type RowsAsked = {
  /** A person's id; 'nobody' for what no person did. */
  who: string | null;
  /** Words of what it was done to, and of what was done. */
  subject: string | null;
  from: number | null;
  until: number | null;
  /** Only rows older than this one. */
  before: number | null;
};

function matching({ who, subject, from, until, before }: RowsAsked): SQL | undefined {
  return and(
    lt(audit.id, before ?? Number.MAX_SAFE_INTEGER),
    who === null ? undefined : who === 'nobody' ? isNull(audit.personId) : eq(audit.personId, who),
    subject === null ? undefined : holds(subject),
    from === null ? undefined : gte(audit.at, from),
    until === null ? undefined : lt(audit.at, until),
  );
}

/** The newest first, at most `most`. */
export function listChanges(db: Db, asked: RowsAsked, most: number): ListedChange[] {
  const { id, at, action, subject, before, after, chain } = audit;
  return db
    .select({ id, at, action, subject, before, after, chain, who: people.name })
    .from(audit)
    .leftJoin(people, eq(people.id, audit.personId))
    .where(matching(asked))
    .orderBy(desc(audit.id))
    .limit(most)
    .all();
}

export type ChainReport = {
  rows: number;
  /** Rows from before the chain began. */
  older: number;
  /** Rows whose words were taken out because a person was erased. */
  erased: number;
  /** The first row that is not as it was written, or whose row before is missing. */
  brokenAt: number | null;
  /** The last link: who notes it down elsewhere can tell whether rows at the end were taken out. */
  last: string | null;
};

const erasedWords = '{"erased":true}';
const isErased = ({ salt, before, after }: Change) =>
  salt === null && [before, after].every((words) => words === null || words === erasedWords);
const atOnce = 1_000;

/** Works every link of the record of changes out again. */
export function checkChain(db: Db): ChainReport {
  const report: ChainReport = { rows: 0, older: 0, erased: 0, brokenAt: null, last: null };
  let previous: Change | undefined;
  for (;;) {
    const some = db
      .select()
      .from(audit)
      .where(gt(audit.id, previous?.id ?? 0))
      .orderBy(asc(audit.id))
      .limit(atOnce)
      .all();
    for (const row of some) {
      report.rows += 1;
      if (row.chain === null && previous?.chain == null) report.older += 1;
      else {
        const holds =
          row.chain === chainOf(row, previous) && (isErased(row) || row.bodyHash === bodyHashOf(row));
        if (isErased(row)) report.erased += 1;
        if (!holds) report.brokenAt ??= row.id;
      }
      previous = row;
    }
    if (some.length < atOnce) return { ...report, last: previous?.chain ?? null };
  }
}
