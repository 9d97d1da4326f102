import { and, eq } from 'drizzle-orm';
import { personalReads } from '../schema/tables.ts';
import type { Answer } from './answers.ts';
import type { StaffCall } from './call.ts';
import { inPassing } from './database-faults.ts';
import type { Db } from './open-database.ts';

/**
 * Writes down that somebody reads what is about a person, once for each matter, way and day. Reading goes on where it
 * cannot be written: a list that has a gap while the disk is full is better than no service.
 */
export function noteRead(
  { db, clock, who, today }: Pick<StaffCall, 'db' | 'clock' | 'who' | 'today'>,
  subject: string,
  way: typeof personalReads.$inferInsert.way,
): void {
  const { personId, onDay } = { personId: who.id, onDay: today };
  const found = db
    .select({ id: personalReads.id })
    .from(personalReads)
    .where(
      and(
        eq(personalReads.personId, personId),
        eq(personalReads.onDay, onDay),
        eq(personalReads.subject, subject),
        eq(personalReads.way, way),
      ),
    )
    .get();
  if (found) return;
  const row = { onDay, at: clock.now(), personId, subject, way };
  inPassing(() => db.insert(personalReads).values(row).onConflictDoNothing().run());
}

/**
 * Writes down that a command gives out what is about people. Whoever runs it is not known, so each time is a line; and
 * nothing is given out where that cannot be written.
 */
export function noteReadByCommand(tx: Db, subject: string, at: number, onDay: string): void {
  tx.insert(personalReads).values({ onDay, at, personId: null, subject, way: 'command' }).run();
}

function wayOf(answer: Answer) {
  if (answer.kind === 'page' || answer.kind === 'part') return answer.status < 400 ? 'page' : null;
  if (answer.kind === 'data') return 'page';
  if (answer.kind !== 'file') return null;
  if (!answer.inline) return 'file';
  return answer.type === 'application/pdf' ? 'paper' : 'page';
}

/** For a route that says whose data it shows ('customer :id'), once it has an answer that shows them. */
export function noteAnswer(call: StaffCall, shows: string, answer: Answer): void {
  const way = wayOf(answer);
  if (way === null) return;
  const subject = shows.replace(/:(\w+)/g, (_, name: string) => call.params[name] ?? '');
  noteRead(call, subject.slice(0, 100), way);
}
