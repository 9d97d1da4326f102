import { and, desc, eq, gte, sql } from 'drizzle-orm';
import { addDays } from '../../shared/days.ts';
import type { TemperatureDay } from '../../shared/development/development.ts';
import { type StageOutlook, stageOutlook } from '../../shared/development/stage-outlook.ts';
import { airReader } from '../climate/queries-air.ts';
import type { Db } from '../plumbing/open-database.ts';
import { feederSpecies, speciesStages, standingDiary } from '../schema/tables.ts';

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

/** The first look that noted eggs or brood since young were last seen; null where none did lately. */
function eggsSince(db: Db, cultureId: number, today: string): string | null {
  const { onDay, kind, eggsSeen, youngSeen } = standingDiary;
  const looks = db
    .select({ onDay, eggsSeen, youngSeen })
    .from(standingDiary)
    .where(
      and(
        eq(standingDiary.cultureId, cultureId),
        eq(kind, 'check'),
        gte(onDay, addDays(today, -rememberedDays)),
      ),
    )
    .orderBy(desc(onDay), desc(sql`coalesce(${standingDiary.rootId}, ${standingDiary.id})`))
    .all();
  let first: string | null = null;
  for (const look of looks) {
    if (look.youngSeen) break;
    if (look.eggsSeen) first = look.onDay;
  }
  return first;
}

export type StageExpected = StageOutlook & { stage: 'hatch' | 'adult'; source: string };

/** What a culture's stages will come to: young from eggs that were noted, the first adults of a feeder culture. */
export function stagesExpected(
  db: Db,
  culture: { id: number; speciesId: number; placeId: number | null; foundedOn: string },
  today: string,
): StageExpected[] {
  const rows = stagesOf(db, culture.speciesId);
  if (rows.length === 0) return [];
  const isFeeder =
    db.select().from(feederSpecies).where(eq(feederSpecies.speciesId, culture.speciesId)).get() !== undefined;
  const starts = {
    hatch: eggsSince(db, culture.id, today),
    adult: isFeeder && culture.foundedOn >= addDays(today, -rememberedDays) ? culture.foundedOn : null,
  };
  const days = airReader(
    db,
    today,
  )(culture.placeId).map(({ onDay, minC, maxC }): TemperatureDay => ({ date: onDay, minC, maxC }));
  return rows.flatMap(({ stage, coolC, coolDays, warmC, warmDays, source }) => {
    const startOn = starts[stage];
    if (startOn === null) return [];
    const times = [
      { tempC: coolC, days: coolDays },
      { tempC: warmC, days: warmDays },
    ];
    return [{ ...stageOutlook(times, days, startOn), stage, source }];
  });
}
