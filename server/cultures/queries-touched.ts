import { sql } from 'drizzle-orm';
import type { Db } from '../plumbing/open-database.ts';

/**
 * What was written since somebody last looked, so that what was worked out of a culture can be kept until something of
 * it changes. Triggers that live in this connection alone write it down beside the change itself, in a table that goes
 * with the connection; what another process writes is known by the database's own counter, and then nothing is kept.
 */
export type Touched = {
  /** To be given the next time. */
  mark: Mark;
  /** Cultures of which anything may have changed; 'all' where it cannot be told, and at first. */
  cultures: ReadonlySet<number> | 'all';
  /** The air of some place may have changed, on any day. */
  air: boolean;
};

/** A line of the list, by its number and a number that no other line ever has: one that was rolled back is gone. */
export type Mark = { line: number; token: number; version: number };

/** Tables with the column that names a culture. */
const ofCultures = {
  diary: 'culture_id',
  cultures: 'id',
  culture_estimates: 'culture_id',
  allocations: 'culture_id',
  put_offs: 'culture_id',
  round_counts: 'culture_id',
};
/** Tables with the column that names a species: all of its cultures are touched. */
const ofSpecies = { species: 'id', feeder_species: 'species_id', species_stages: 'species_id' };

const token = 'abs(random() % 9007199254740991)';

const events = { INSERT: ['NEW'], DELETE: ['OLD'], UPDATE: ['NEW', 'OLD'] };

function triggersOn(table: string, what: string, column: string | null): string[] {
  const line = (row: string) =>
    `INSERT INTO touched (token, what, id) VALUES (${token}, '${what}', ${column ? `${row}.${column}` : 'NULL'});`;
  return Object.entries(events).map(
    ([event, rows]) =>
      `CREATE TEMP TRIGGER touched_${table}_${event.toLowerCase()} AFTER ${event} ON main.${table}
       BEGIN ${rows.map(line).join(' ')} END`,
  );
}

const triggers = [
  ...Object.entries(ofCultures).flatMap(([table, column]) => triggersOn(table, 'culture', column)),
  ...Object.entries(ofSpecies).flatMap(([table, column]) => triggersOn(table, 'species', column)),
  // Names and order of places are in every row, and so is whose air a culture breathes.
  ...triggersOn('places', 'all', null),
  `CREATE TEMP TRIGGER touched_people_name AFTER UPDATE OF name ON main.people
   BEGIN INSERT INTO touched (token, what) VALUES (${token}, 'all'); END`,
  ...triggersOn('climate_days', 'air', null),
];

/** What lives in this connection alone may change while the records are only read: see server/plumbing/pause.ts. */
function inOwnTables(db: Db, work: () => void) {
  const held = db.get<{ query_only: number }>(sql`PRAGMA query_only`)?.query_only === 1;
  if (held) db.run(sql`PRAGMA query_only = OFF`);
  try {
    work();
  } finally {
    if (held) db.run(sql`PRAGMA query_only = ON`);
  }
}

/** A table that is rebuilt loses its triggers, a transaction that is rolled back takes them along: then it begins anew. */
function watch(db: Db) {
  const found = db.get<{ n: number }>(
    sql`SELECT count(*) AS n FROM sqlite_temp_schema WHERE type = 'trigger' AND name GLOB 'touched_*'`,
  );
  if (found?.n !== triggers.length) inOwnTables(db, () => beginAnew(db));
}

function beginAnew(db: Db) {
  const old = db.all<{ name: string }>(
    sql`SELECT name FROM sqlite_temp_schema WHERE type = 'trigger' AND name GLOB 'touched_*'`,
  );
  for (const { name } of old) db.run(sql.raw(`DROP TRIGGER temp.${name}`));
  db.run(sql`DROP TABLE IF EXISTS temp.touched`);
  db.run(sql`CREATE TEMP TABLE touched (
    line INTEGER PRIMARY KEY, token INTEGER NOT NULL, what TEXT NOT NULL, id INTEGER) STRICT`);
  db.run(sql.raw(`INSERT INTO temp.touched (token, what) VALUES (${token}, 'all')`));
  for (const trigger of triggers) db.run(sql.raw(trigger));
}

/** The list is kept short; whoever has not looked for so long is told that all may have changed. */
const mostLines = 4_000;

function shorten(db: Db, last: number) {
  const first = db.get<{ line: number }>(sql`SELECT min(line) AS line FROM temp.touched`)?.line ?? last;
  if (last - first <= 2 * mostLines) return;
  inOwnTables(db, () => db.run(sql`DELETE FROM temp.touched WHERE line < ${last - mostLines}`));
}

type Line = { line: number; token: number; what: string; id: number | null };

function culturesIn(db: Db, lines: readonly Line[]): Touched['cultures'] {
  if (lines.some(({ what }) => what === 'all')) return 'all';
  const ids = new Set<number>();
  const species = new Set<number>();
  for (const { what, id } of lines) if (id !== null) (what === 'species' ? species : ids).add(id);
  for (const one of species)
    for (const { id } of db.all<{ id: number }>(sql`SELECT id FROM cultures WHERE species_id = ${one}`))
      ids.add(id);
  return ids;
}

/** What was touched since a mark; everything where there is none, or where it cannot be told. */
export function touchedSince(db: Db, mark: Mark | null): Touched {
  watch(db);
  const version = db.get<{ data_version: number }>(sql`PRAGMA data_version`)?.data_version ?? 0;
  const lines =
    mark && mark.version === version
      ? db.all<Line>(
          sql`SELECT line, token, what, id FROM temp.touched WHERE line >= ${mark.line} ORDER BY line`,
        )
      : [];
  const [known, ...since] = lines;
  if (mark && known?.line === mark.line && known.token === mark.token) {
    const last = since.at(-1);
    if (last) shorten(db, last.line);
    const now = last ? { line: last.line, token: last.token, version } : mark;
    const air = since.some(({ what }) => what === 'air' || what === 'all');
    return { mark: now, cultures: culturesIn(db, since), air };
  }
  const last = db.get<Line>(sql`SELECT line, token FROM temp.touched ORDER BY line DESC LIMIT 1`);
  if (!last) throw new Error('the list of what was touched has no line');
  shorten(db, last.line);
  return { mark: { line: last.line, token: last.token, version }, cultures: 'all', air: true };
}
