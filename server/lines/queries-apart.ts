import { and, eq, or } from 'drizzle-orm';
import { alias } from 'drizzle-orm/sqlite-core';
import { pairKey, whyApart } from '../../shared/lines/page-apart.ts';
import type { Db } from '../plumbing/open-database.ts';
import { lines, linesApart } from '../schema/tables.ts';

/** Why animals of two lines (null: of none) must not come together; null when they may. */
export type ApartRules = (oneLineId: number | null, otherLineId: number | null) => string | null;

/** What is marked about the lines of a species: the one place that every page, suggestion and form asks. */
export function apartRules(db: Db, speciesId: number): ApartRules {
  const marked = new Map(
    db
      .select({ id: lines.id, name: lines.name, locality: lines.locality, keptPure: lines.keptPure })
      .from(lines)
      .where(eq(lines.speciesId, speciesId))
      .all()
      .map((line) => [line.id, line] as const),
  );
  const pairs = new Set(
    db
      .select({ one: linesApart.lineId, other: linesApart.otherLineId })
      .from(linesApart)
      .innerJoin(lines, eq(lines.id, linesApart.lineId))
      .where(eq(lines.speciesId, speciesId))
      .all()
      .map(({ one, other }) => pairKey(one, other)),
  );
  const lineOf = (id: number | null) => (id === null ? null : (marked.get(id) ?? null));
  return (one, other) => whyApart(lineOf(one), lineOf(other), pairs);
}

type Mixed = { code: string; speciesId: number; lineId: number | null };

/** Why one culture must not be mixed with another, as a sentence; null when it may. */
export function whyNeverMixed(db: Db, one: Mixed, other: Mixed): string | null {
  if (one.speciesId !== other.speciesId) return `${one.code} and ${other.code} are of two species.`;
  const why = apartRules(db, one.speciesId)(one.lineId, other.lineId);
  return why && `${one.code} and ${other.code} must not be mixed: ${why}.`;
}

/** The lines that one is marked never to be mixed with, by name. */
export function neverMixedWith(db: Db, lineId: number): { id: number; name: string }[] {
  const other = alias(lines, 'other');
  return db
    .select({ id: other.id, name: other.name })
    .from(linesApart)
    .innerJoin(
      other,
      or(
        and(eq(linesApart.lineId, lineId), eq(other.id, linesApart.otherLineId)),
        and(eq(linesApart.otherLineId, lineId), eq(other.id, linesApart.lineId)),
      ),
    )
    .orderBy(other.name)
    .all();
}

/** From now on a line is never mixed with these, and with no others. */
export function keepApart(tx: Db, lineId: number, otherIds: readonly number[]) {
  tx.delete(linesApart)
    .where(or(eq(linesApart.lineId, lineId), eq(linesApart.otherLineId, lineId)))
    .run();
  for (const id of otherIds) {
    const pair = { lineId: Math.min(lineId, id), otherLineId: Math.max(lineId, id) };
    tx.insert(linesApart).values(pair).run();
  }
}
