export type Kept = { name: string; madeAt: number; proven: boolean; reason: string };

/** How many days, weeks and months each keep one backup; besides, the last few that were not made by the night. */
const keeps = { days: 7, weeks: 5, months: 12, upgrades: 3, asked: 3 } as const;

const msPerDay = 86_400_000;
const day = (at: number) => Math.floor(at / msPerDay);
/** Weeks begin on Monday; 1970-01-01 was a Thursday. */
const week = (at: number) => Math.floor((day(at) + 3) / 7);
const month = (at: number) => new Date(at).toISOString().slice(0, 7);

/** The best of each of the newest periods: one that was proven before one that was not, then the newest. */
function bestOfPeriods(all: readonly Kept[], period: (at: number) => string | number, most: number): Kept[] {
  const best = new Map<string | number, Kept>();
  for (const one of [...all].sort((a, b) => b.madeAt - a.madeAt)) {
    const key = period(one.madeAt);
    const held = best.get(key);
    if (held === undefined || (one.proven && !held.proven)) best.set(key, one);
  }
  return [...best.values()].slice(0, most);
}

/**
 * Which backups may go: those that are neither the one of their day (the newest seven days that have any), of their
 * week (five) or of their month (twelve), nor among the newest three made before an upgrade or asked for, nor the newest of all, nor
 * the newest that was proven, nor the newest of the night, which says that the night's was made. Periods are counted over the backups there are, not from now: a machine that was off for
 * a year keeps what it has. Days are UTC.
 *
 * @example backupsToDrop([{ name: 'a', madeAt: 0, proven: true, reason: 'nightly' }]) // []
 */
export function backupsToDrop(all: readonly Kept[]): string[] {
  const newestFirst = [...all].sort((a, b) => b.madeAt - a.madeAt);
  const keep = new Set(
    [
      ...bestOfPeriods(all, day, keeps.days),
      ...bestOfPeriods(all, week, keeps.weeks),
      ...bestOfPeriods(all, month, keeps.months),
      ...newestFirst.filter(({ reason }) => reason === 'upgrade').slice(0, keeps.upgrades),
      ...newestFirst.filter(({ reason }) => reason === 'asked').slice(0, keeps.asked),
      ...newestFirst.filter(({ reason }) => reason === 'nightly').slice(0, 1),
      ...newestFirst.slice(0, 1),
      ...newestFirst.filter(({ proven }) => proven).slice(0, 1),
    ].map(({ name }) => name),
  );
  return all.filter(({ name }) => !keep.has(name)).map(({ name }) => name);
}
