import { and, desc, eq, gte, inArray, ne, or, sql } from 'drizzle-orm';
import { addDays } from '../../shared/days.ts';
import type { TemperatureDay } from '../../shared/development/development.ts';
import type { StageOutlook } from '../../shared/development/stage-outlook.ts';
import { airPrint, airReader } from '../climate/queries-air.ts';
import { type Mark, touchedSince } from '../cultures/queries-touched.ts';
import type { Db } from '../plumbing/open-database.ts';
import { cultures, feederSpecies, speciesStages, standingDiary } from '../schema/tables.ts';
import { outlookKeeper } from './queries-outlooks.ts';

export type StageRow = typeof speciesStages.$inferSelect;

export function stagesOf(db: Db, speciesId: number): StageRow[] {
  return db.select().from(speciesStages).where(eq(speciesStages.speciesId, speciesId)).all();
}

export function saveStages(tx: Db, speciesId: number, rows: readonly StageRow[]) {
  tx.delete(speciesStages).where(eq(speciesStages.speciesId, speciesId)).run();
  for (const row of rows) tx.insert(speciesStages).values(row).run();
}

/** Eggs noted longer ago have hatched, or will not. */
const rememberedDays = 120;

type Seen = {
  /** The first look that noted eggs or brood since young were last seen. */
  eggsOn: string | null;
  noYoungOn: string | null;
  adultsSeen: boolean;
  noAdultsOn: string | null;
};

const nothingSeen: Seen = { eggsOn: null, noYoungOn: null, adultsSeen: false, noAdultsOn: null };

/** What the looks of cultures said of their young and adults, the newest first. */
function seenByCulture(db: Db, ids: readonly number[], today: string): Map<number, Seen> {
  const { cultureId, onDay, kind, eggsSeen, youngSeen, lookedFor } = standingDiary;
  const looks = db
    .select({ cultureId, onDay, eggsSeen, youngSeen, lookedFor })
    .from(standingDiary)
    .where(
      and(
        inArray(cultureId, [...ids]),
        eq(kind, 'check'),
        gte(onDay, addDays(today, -rememberedDays)),
        or(eq(eggsSeen, true), eq(youngSeen, true), sql`${lookedFor} IS NOT NULL`),
      ),
    )
    .orderBy(desc(onDay), desc(sql`coalesce(${standingDiary.rootId}, ${standingDiary.id})`))
    .all();
  const all = new Map<number, Seen>();
  const hatched = new Set<number>();
  for (const look of looks) {
    const seen = all.get(look.cultureId) ?? { ...nothingSeen };
    all.set(look.cultureId, seen);
    if (look.lookedFor === 'adults') seen.adultsSeen = true;
    if (look.lookedFor === 'no-adults') seen.noAdultsOn ??= look.onDay;
    if (look.youngSeen || look.lookedFor === 'young') hatched.add(look.cultureId);
    if (hatched.has(look.cultureId)) continue;
    if (look.lookedFor === 'no-young') seen.noYoungOn ??= look.onDay;
    if (look.eggsSeen) seen.eggsOn = look.onDay;
  }
  return all;
}

export type StageExpected = StageOutlook & {
  stage: 'hatch' | 'adult';
  source: string;
  /** How warm the room was since the start, on average; null where it was not measured. */
  meanC: number | null;
  /** The last look that was looking for it and found none. */
  notYetOn: string | null;
};

/** Cultures of species whose times are known. */
const withStages = (db: Db, onlyIds: readonly number[] | undefined) =>
  db
    .select({
      id: cultures.id,
      speciesId: cultures.speciesId,
      placeId: cultures.placeId,
      foundedOn: cultures.foundedOn,
      isFeeder: sql<number>`${feederSpecies.speciesId} IS NOT NULL`,
    })
    .from(cultures)
    .leftJoin(feederSpecies, eq(feederSpecies.speciesId, cultures.speciesId))
    .where(
      and(
        ne(cultures.status, 'retired'),
        sql`EXISTS (SELECT 1 FROM species_stages s WHERE s.species_id = ${cultures.speciesId})`,
        onlyIds && inArray(cultures.id, [...onlyIds]),
      ),
    )
    .all();

function warmthSince(days: readonly TemperatureDay[], startOn: string): number | null {
  const since = days.filter(({ date }) => date >= startOn);
  if (since.length === 0) return null;
  return since.reduce((sum, { minC, maxC }) => sum + (minC + maxC) / 2, 0) / since.length;
}

/**
 * What the stages of every culture that is kept (or of some) will come to: young from eggs that were noted, the first
 * adults of a feeder culture, until a look has found them.
 */
function workOutStages(db: Db, today: string, onlyIds?: readonly number[]): Map<number, StageExpected[]> {
  const all = new Map<number, StageExpected[]>();
  const kept = withStages(db, onlyIds);
  if (kept.length === 0) return all;
  const times = db.select().from(speciesStages).all();
  const ids = kept.map(({ id }) => id);
  const seenAt = seenByCulture(db, ids, today);
  const daysAt = airReader(db, today);
  const outlook = outlookKeeper(db, today);
  for (const { id, speciesId, placeId, foundedOn, isFeeder } of kept) {
    const seen = seenAt.get(id) ?? nothingSeen;
    const isYoung = isFeeder && !seen.adultsSeen && foundedOn >= addDays(today, -rememberedDays);
    const starts = { hatch: seen.eggsOn, adult: isYoung ? foundedOn : null };
    const notYet = { hatch: seen.noYoungOn, adult: seen.noAdultsOn };
    const own = times.flatMap((row): StageExpected[] => {
      const startOn = starts[row.stage];
      if (row.speciesId !== speciesId || startOn === null) return [];
      const days = daysAt(placeId).map(({ onDay, minC, maxC }) => ({ date: onDay, minC, maxC }));
      const { stage, source } = row;
      const meanC = warmthSince(days, startOn);
      return [{ ...outlook(row, days, startOn), stage, source, meanC, notYetOn: notYet[stage] }];
    });
    if (own.length > 0) all.set(id, own);
  }
  return all;
}

type Kept = { today: string; mark: Mark; air: string; stages: Map<number, StageExpected[]> };

/** Held in memory: a round that is open all day asks for it with every tap. */
const kept = new WeakMap<Db, Kept>();

/** What the stages of every culture that is kept will come to, worked out anew only where something was written. */
export function stagesByCulture(db: Db, today: string): ReadonlyMap<number, StageExpected[]> {
  const before = kept.get(db);
  const { mark, cultures: changed, air } = touchedSince(db, before?.mark ?? null);
  const goesOn = before?.today === today && changed !== 'all' && (!air || airPrint(db, today) === before.air);
  if (!goesOn) {
    const stages = workOutStages(db, today);
    kept.set(db, { today, mark, air: airPrint(db, today), stages });
    return stages;
  }
  if (changed.size > 0) {
    const anew = workOutStages(db, today, [...changed]);
    for (const id of changed) {
      const own = anew.get(id);
      if (own) before.stages.set(id, own);
      else before.stages.delete(id);
    }
  }
  before.mark = mark;
  return before.stages;
}

/** What one culture's stages will come to. */
export const stagesExpected = (db: Db, { id }: { id: number }, today: string): StageExpected[] =>
  workOutStages(db, today, [id]).get(id) ?? [];
