import { desc, eq, sql } from 'drizzle-orm';
import type { Db } from '../plumbing/open-database.ts';
import { detectionPairs, detectionUpdates, species } from '../schema/tables.ts';

/** Days within which a full count tells what a visible one saw of; more, and the colony has changed. */
const mostDaysApart = 5;
/** The most pairs that are weighed at once; the newest. */
const mostPairs = 40;

export type CountedPair = {
  visibleId: number;
  fullId: number;
  code: string;
  visibleOn: string;
  fullOn: string;
  seen: number;
  counted: number;
  relativeSd: number;
};

/**
 * Visible counts that a full count followed within days while nothing went in or out, and that have not taught yet.
 * A full count goes with the last visible one before it, and each count is in one pair only.
 */
export function newPairs(db: Db, speciesId: number): CountedPair[] {
  const rows = db.all<CountedPair>(sql`
    SELECT coalesce(v.root_id, v.id) AS visibleId, coalesce(f.root_id, f.id) AS fullId, c.code AS code,
      v.on_day AS visibleOn, f.on_day AS fullOn,
      json_extract(v.count_input, '$.counted') AS seen, json_extract(f.count_input, '$.counted') AS counted,
      json_extract(f.count_input, '$.relativeSd') AS relativeSd
    FROM cultures c
    JOIN standing_diary f ON f.culture_id = c.id AND f.kind = 'count'
      AND json_extract(f.count_input, '$.method') = 'full'
    JOIN standing_diary v ON v.culture_id = c.id AND v.kind = 'count'
      AND json_extract(v.count_input, '$.method') = 'visible'
      AND v.on_day BETWEEN date(f.on_day, ${`-${mostDaysApart} days`}) AND f.on_day
    WHERE c.species_id = ${speciesId}
      AND (v.on_day < f.on_day OR coalesce(v.root_id, v.id) < coalesce(f.root_id, f.id))
      AND json_extract(f.count_input, '$.counted') > 0
      AND NOT EXISTS (SELECT 1 FROM standing_diary m WHERE m.culture_id = c.id
        AND m.kind IN ('harvest', 'addition', 'split', 'die-off') AND m.on_day BETWEEN v.on_day AND f.on_day)
      AND NOT EXISTS (SELECT 1 FROM detection_pairs p
        WHERE p.visible_id = coalesce(v.root_id, v.id) OR p.full_id = coalesce(f.root_id, f.id))
    ORDER BY f.on_day DESC, fullId DESC, v.on_day DESC, visibleId DESC`);
  const used = new Set<number>();
  const pairs = rows.filter(({ visibleId, fullId }) => {
    if (used.has(visibleId) || used.has(fullId)) return false;
    used.add(visibleId).add(fullId);
    return true;
  });
  return pairs.slice(0, mostPairs);
}

/** What was learned last, or undefined. */
export const lastUpdate = (db: Db, speciesId: number) =>
  db
    .select()
    .from(detectionUpdates)
    .where(eq(detectionUpdates.speciesId, speciesId))
    .orderBy(desc(detectionUpdates.id))
    .limit(1)
    .get();

type Share = { alpha: number; beta: number };

export function acceptUpdate(
  tx: Db,
  speciesId: number,
  learned: { before: Share; after: Share; visits: number; pairs: readonly CountedPair[] },
  by: { personId: string; now: number },
) {
  const { before, after, visits, pairs } = learned;
  const { id } = tx
    .insert(detectionUpdates)
    .values({
      speciesId,
      beforeAlpha: before.alpha,
      beforeBeta: before.beta,
      afterAlpha: after.alpha,
      afterBeta: after.beta,
      visits,
      madeBy: by.personId,
      madeAt: by.now,
    })
    .returning({ id: detectionUpdates.id })
    .get();
  for (const { visibleId, fullId, visibleOn, fullOn, seen, counted } of pairs)
    tx.insert(detectionPairs)
      .values({ updateId: id, visibleId, fullId, visibleOn, fullOn, seen, counted })
      .run();
  tx.update(species)
    .set({ detectionAlpha: after.alpha, detectionBeta: after.beta })
    .where(eq(species.id, speciesId))
    .run();
}
