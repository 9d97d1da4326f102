import { eq } from 'drizzle-orm';
import { refreshEstimate } from '../../server/counts/queries-estimate.ts';
import { appendEntry } from '../../server/cultures/queries-diary.ts';
import type { Db } from '../../server/plumbing/open-database.ts';
import { cultureEstimates, type cultures } from '../../server/schema/tables.ts';
import { makeCulture } from './stock.ts';
import { testNow, testToday } from './test-app.ts';

/**
 * A culture whose estimate is really worked out: all its animals were counted today. Unlike an estimate that is put
 * in by hand, it follows when something is promised or taken out.
 */
export function makeCounted(
  db: Db,
  speciesId: number,
  animals: number,
  culture: Partial<typeof cultures.$inferInsert> = {},
) {
  const row = makeCulture(db, { ...culture, speciesId });
  appendEntry(db, {
    cultureId: row.id,
    onDay: testToday,
    kind: 'count',
    countInput: JSON.stringify({ method: 'full', counted: animals, relativeSd: 0.02 }),
    via: 'page',
    madeBy: null,
    madeAt: testNow,
  });
  refreshEstimate(db, row.id, testToday, testNow);
  const estimate = db.select().from(cultureEstimates).where(eq(cultureEstimates.cultureId, row.id)).get();
  if (!estimate) throw new Error(`culture ${row.id} has no estimate`);
  return { ...row, estimate };
}
