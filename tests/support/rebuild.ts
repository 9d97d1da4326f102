import { eq } from 'drizzle-orm';
import { readEstimate, readPoints, refreshEstimate } from '../../server/counts/queries-estimate.ts';
import type { Db } from '../../server/plumbing/open-database.ts';
import { cultureEstimates, estimatePoints, populationStates } from '../../server/schema/tables.ts';
import { testNow, testToday } from './test-app.ts';

/** What is stored of a culture's estimate, without when it was worked out. */
export function storedOf(db: Db, cultureId: number) {
  const { workedOutAt: _at, ...estimate } = readEstimate(db, cultureId) ?? { workedOutAt: 0 };
  return { estimate, points: readPoints(db, cultureId) };
}

/** The same after everything stored was thrown away and worked out from the whole diary. */
export function rebuiltOf(db: Db, cultureId: number, today = testToday) {
  for (const table of [populationStates, estimatePoints, cultureEstimates])
    db.delete(table).where(eq(table.cultureId, cultureId)).run();
  refreshEstimate(db, cultureId, today, testNow);
  return storedOf(db, cultureId);
}
