import type { TemperatureDay } from '../../shared/development/development.ts';
import { type StageOutlook, stageOutlook } from '../../shared/development/stage-outlook.ts';
import type { Db } from '../plumbing/open-database.ts';

type Times = { coolC: number; coolDays: number; warmC: number; warmDays: number };

/** Worked out once a day for the same times, start and air: a page that is read changes nothing, and a round reads many. */
const kept = new WeakMap<Db, { today: string; outlooks: Map<string, StageOutlook> }>();

export function outlookKeeper(db: Db, today: string) {
  let held = kept.get(db);
  if (held?.today !== today) {
    held = { today, outlooks: new Map() };
    kept.set(db, held);
  }
  const { outlooks } = held;
  return (times: Times, days: readonly TemperatureDay[], startOn: string): StageOutlook => {
    const { coolC, coolDays, warmC, warmDays } = times;
    const since = days.filter(({ date }) => date >= startOn);
    const key = JSON.stringify([
      coolC,
      coolDays,
      warmC,
      warmDays,
      startOn,
      days.length,
      since,
      days.slice(-14),
    ]);
    const before = outlooks.get(key);
    if (before) return before;
    const pair = [
      { tempC: coolC, days: coolDays },
      { tempC: warmC, days: warmDays },
    ];
    const outlook = stageOutlook(pair, days, startOn);
    outlooks.set(key, outlook);
    return outlook;
  };
}
