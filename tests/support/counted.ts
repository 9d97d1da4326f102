import { refreshEstimate } from '../../server/counts/queries-estimate.ts';
import { appendEntry } from '../../server/cultures/queries-diary.ts';
import type { Db } from '../../server/plumbing/open-database.ts';
import { makeCulture } from './stock.ts';
import { testNow, testToday } from './test-app.ts';

export const fullCountOf = (counted: number) =>
  JSON.stringify({ method: 'full', counted, relativeSd: 0.05, level: 0.9 });

/** A culture all of whose animals were counted on a day, with its estimate as of today. */
export function makeCounted(
  db: Db,
  counted = 140,
  { onDay = '2026-11-18', ...culture }: Parameters<typeof makeCulture>[1] & { onDay?: string } = {},
) {
  const made = makeCulture(db, culture);
  appendEntry(db, {
    cultureId: made.id,
    onDay,
    kind: 'count',
    countInput: fullCountOf(counted),
    via: 'page',
    madeBy: 'person-owner',
    madeAt: testNow,
  });
  refreshEstimate(db, made.id, testToday, testNow);
  return made;
}
