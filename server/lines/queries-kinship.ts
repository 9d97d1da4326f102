import { createHash } from 'node:crypto';
import { sql } from 'drizzle-orm';
import type { Breeding, Lineage } from '../../shared/lines/form.ts';
import { type Kinship, kinship } from '../../shared/lines/kinship.ts';
import { meanKinship } from '../../shared/lines/lineage.ts';
import { isClonal } from '../../shared/lines/page-start.ts';
import type { Db } from '../plumbing/open-database.ts';
import { type LeftOut, type LineageMember, lineageOfRows } from './lineage-of-rows.ts';
import { type LineageRows, readLineageRows } from './queries-lineage.ts';

export type SpeciesKinship = {
  /** With the numbers of today for animals, where an estimate is known. */
  found: Kinship;
  lineage: Lineage;
  breeding: Breeding;
  /** Females (or males) alone: one clone, of which inbreeding says nothing. */
  clonal: boolean;
  /** The places in `found` of the cultures that are kept. */
  kept: readonly number[];
  members: readonly LineageMember[];
  leftOut: readonly LeftOut[];
};

type Remembered = { seen: string; print: string; value: SpeciesKinship };

/** Cells of tables of kinship and founders' shares that are remembered in all, 8 bytes each. */
const mostCells = 12_000_000;

/** By the connection: two databases of one process (tests) must not answer for each other. */
const remembered = new WeakMap<Db, Map<number, Remembered>>();

/**
 * Changes with every write to the database, through this connection or any other. As long as it is the same, nothing
 * whatever has changed.
 */
function stateOf(db: Db, today: string): string {
  const row = db.get<{ own: number; others: number }>(
    sql`SELECT total_changes() AS own, data_version AS others FROM pragma_data_version`,
  );
  return `${today} ${row.own} ${row.others}`;
}

const printOf = (rows: LineageRows): string =>
  createHash('sha256').update(JSON.stringify(rows)).digest('base64');

/** The longest unused go first; the newest stays even if it alone is too large. */
function forgetSome(own: Map<number, Remembered>) {
  const cells = ({ value: { found } }: Remembered) =>
    found.codes.length * (found.codes.length + found.founders.length);
  let total = [...own.values()].reduce((sum, one) => sum + cells(one), 0);
  for (const [speciesId, one] of own) {
    if (total <= mostCells || own.size === 1) return;
    own.delete(speciesId);
    total -= cells(one);
  }
}

/**
 * Who is kin to whom in a species today; undefined for a species that is not there. Worked out once for a state of
 * the records: while nothing was written to the database since, it is answered at once; otherwise what it is made from
 * is read anew and compared, so that the answer never lags behind.
 */
export function kinshipOf(db: Db, speciesId: number, today: string): SpeciesKinship | undefined {
  const own = remembered.get(db) ?? new Map<number, Remembered>();
  remembered.set(db, own);
  const seen = stateOf(db, today);
  const before = own.get(speciesId);
  if (before?.seen === seen) return before.value;
  const rows = readLineageRows(db, speciesId, today);
  if (!rows) return undefined;
  const print = printOf(rows);
  const value = before?.print === print ? before.value : workOutKinship(rows);
  own.delete(speciesId);
  own.set(speciesId, { seen, print, value });
  forgetSome(own);
  return value;
}

function workOutKinship(rows: LineageRows): SpeciesKinship {
  const { lineage, members, leftOut } = lineageOfRows(rows);
  const { femaleShare, neRatio, generationDays } = lineage;
  const found = kinship(lineage);
  return {
    found: { ...found, animals: Float64Array.from(members, ({ median }, i) => median ?? found.animals[i]!) },
    lineage,
    breeding: { femaleShare, neRatio, generationDays },
    clonal: isClonal(lineage),
    kept: members.flatMap(({ isKept }, place) => (isKept ? [place] : [])),
    members,
    leftOut,
  };
}

/** The mean kinship of each kept culture with those that are kept, by its id (Ballou and Lacy 1995). */
export function meanKinships(db: Db, speciesId: number, today: string): Map<number, number> {
  const known = kinshipOf(db, speciesId, today);
  if (!known || known.clonal) return new Map();
  return new Map(
    known.kept.map((place) => [known.members[place]!.id, meanKinship(known.found, place, known.kept)]),
  );
}
