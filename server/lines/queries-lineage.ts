import { eq, sql } from 'drizzle-orm';
import type { Db } from '../plumbing/open-database.ts';
import { species } from '../schema/tables.ts';

export type CultureRow = {
  id: number;
  code: string;
  founded_on: string;
  founding_animals: number;
  status: 'active' | 'quarantine' | 'retired';
  /** The estimate of today. */
  median: number | null;
};
export type ParentRow = { culture_id: number; parent_id: number; animals: number };
export type AdditionRow = {
  culture_id: number;
  from_id: number;
  on_day: string;
  animals: number;
  before_median: number | null;
  after_median: number | null;
};
export type QuarterRow = { culture_id: number; on_day: string; before_median: number; mean: number };

/** All that the kinship of a species is made from, as plain rows. */
export type LineageRows = {
  asOf: string;
  femaleShare: number;
  neRatio: number;
  generationDays: number;
  cultures: CultureRow[];
  parents: ParentRow[];
  additions: AdditionRow[];
  quarters: QuarterRow[];
};

const culturesOf = (db: Db, speciesId: number) =>
  db.all<CultureRow>(sql`SELECT c.id, c.code, c.founded_on, c.founding_animals, c.status, e.median
    FROM cultures c LEFT JOIN culture_estimates e ON e.culture_id = c.id
    WHERE c.species_id = ${speciesId} AND c.taken_back_at IS NULL ORDER BY c.id`);

const parentsOf = (db: Db, speciesId: number) =>
  db.all<ParentRow>(sql`SELECT p.culture_id, p.parent_id, p.animals
    FROM cultures c JOIN culture_parents p ON p.culture_id = c.id
    WHERE c.species_id = ${speciesId} ORDER BY p.culture_id, p.parent_id`);

/** Animals put in from another culture, with what was believed of the receiving one before and after. */
const additionsOf = (db: Db, speciesId: number) =>
  db.all<AdditionRow>(sql`SELECT d.culture_id, d.other_culture_id AS from_id, d.on_day, d.animals,
      p.before_median, p.after_median
    FROM cultures c
    JOIN standing_diary d ON d.culture_id = c.id AND d.kind = 'addition' AND d.other_culture_id IS NOT NULL
    LEFT JOIN estimate_points p
      ON p.culture_id = d.culture_id AND p.on_day = d.on_day AND p.position = coalesce(d.root_id, d.id)
    WHERE c.species_id = ${speciesId} ORDER BY d.on_day, d.id`);

/** A culture that nearly died out counts as half an animal: fewer could not pass on anything. */
const quartersOf = (db: Db, speciesId: number) =>
  db.all<QuarterRow>(sql`SELECT p.culture_id, min(p.on_day) AS on_day, p.before_median,
      2 * count(*) / sum(1 / max(p.before_median, 0.5) + 1 / max(p.after_median, 0.5)) AS mean
    FROM cultures c JOIN estimate_points p ON p.culture_id = c.id
    WHERE c.species_id = ${speciesId}
    GROUP BY p.culture_id, substr(p.on_day, 1, 4), (substr(p.on_day, 6, 2) - 1) / 3
    ORDER BY p.culture_id, on_day`);

export function readLineageRows(db: Db, speciesId: number, asOf: string): LineageRows | undefined {
  const row = db
    .select({
      femaleShare: species.femaleShare,
      neRatio: species.effectiveRatio,
      generationDays: species.generationDays,
    })
    .from(species)
    .where(eq(species.id, speciesId))
    .get();
  if (!row) return undefined;
  return {
    ...row,
    asOf,
    cultures: culturesOf(db, speciesId),
    parents: parentsOf(db, speciesId),
    additions: additionsOf(db, speciesId),
    quarters: quartersOf(db, speciesId),
  };
}
