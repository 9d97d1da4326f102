import { type Believed, sumOfBelieved } from '../../shared/counts/trend.ts';
import { readTrends } from '../counts/queries-trends.ts';
import type { Db } from '../plumbing/open-database.ts';
import { culturesOfLines } from './queries.ts';

/** Each culture takes some look-ups: a list of lines with more of them goes without. */
const mostCultures = 240;

/** How many animals each line was believed to have over the last half year; nothing where that is too much to look up. */
export function trendsOfLines(db: Db, lineIds: readonly number[], today: string): Map<number, Believed[]> {
  const found = culturesOfLines(db, lineIds, mostCultures) ?? [];
  const ids = found.map(({ id }) => id);
  const trends = readTrends(db, ids, today);
  const byLine = new Map<number, Map<string, Believed[]>>();
  for (const { id, lineId } of found) {
    const days = byLine.get(lineId ?? 0) ?? new Map<string, Believed[]>();
    for (const point of trends.get(id) ?? [])
      days.set(point.onDay, [...(days.get(point.onDay) ?? []), point]);
    byLine.set(lineId ?? 0, days);
  }
  const summed = [...byLine].map(([lineId, days]): [number, Believed[]] => [
    lineId,
    [...days].sort(([a], [b]) => (a < b ? -1 : 1)).map(([onDay, parts]) => sumOfBelieved(onDay, parts)),
  ]);
  return new Map(summed);
}
