import { type Believed, sumOfBelieved } from '../../shared/counts/trend.ts';
import type { LineTrend } from '../../views/lines/say-worked-out.ts';
import { readTrends } from '../counts/queries-trends.ts';
import type { Db } from '../plumbing/open-database.ts';
import { culturesOfLines } from './queries.ts';

/** Each culture takes some look-ups: a list of lines with more of them goes without. */
const mostCultures = 240;

type Part = Believed & { code: string };

/** A line's number on each day is the sum of its cultures' on that day; those of the last day are kept beside it. */
function summed(days: ReadonlyMap<string, Part[]>): LineTrend {
  const inOrder = [...days].sort(([a], [b]) => (a < b ? -1 : 1));
  return {
    points: inOrder.map(([onDay, parts]) => sumOfBelieved(onDay, parts)),
    parts: inOrder.at(-1)?.[1] ?? [],
  };
}

/** How many animals each line was believed to have over the last half year; nothing where that is too much to look up. */
export function trendsOfLines(db: Db, lineIds: readonly number[], today: string): Map<number, LineTrend> {
  const found = culturesOfLines(db, lineIds, mostCultures) ?? [];
  const ids = found.map(({ id }) => id);
  const trends = readTrends(db, ids, today);
  const byLine = new Map<number, Map<string, Part[]>>();
  for (const { id, code, lineId } of found) {
    const days = byLine.get(lineId ?? 0) ?? new Map<string, Part[]>();
    for (const point of trends.get(id) ?? [])
      days.set(point.onDay, [...(days.get(point.onDay) ?? []), { ...point, code }]);
    byLine.set(lineId ?? 0, days);
  }
  return new Map([...byLine].map(([lineId, days]) => [lineId, summed(days)]));
}
