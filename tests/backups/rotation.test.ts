import { describe, expect, it } from 'vitest';
import { isNightlyDue, isProofLate } from '../../shared/backups/due.ts';
import { backupName, isBackupName, readSums, writeSums } from '../../shared/backups/manifest.ts';
import { backupsToDrop, type Kept } from '../../shared/backups/rotation.ts';

const msPerDay = 86_400_000;
const start = Date.UTC(2026, 0, 1, 2, 30);
const nightly = (day: number, proven = true): Kept => ({
  name: `day ${day}`,
  madeAt: start + day * msPerDay,
  proven,
  reason: 'nightly',
});

/** What is left after a backup each night, each followed by the rotation. */
function keptAfter(nights: number, isProven = (_day: number) => true): Kept[] {
  let kept: Kept[] = [];
  for (let day = 0; day < nights; day += 1) {
    kept.push(nightly(day, isProven(day)));
    const gone = new Set(backupsToDrop(kept));
    kept = kept.filter(({ name }) => !gone.has(name));
  }
  return kept;
}

const daysOf = (kept: Kept[]) => kept.map(({ madeAt }) => (madeAt - start) / msPerDay);

describe('the rotation', () => {
  it('keeps seven days, five weeks and twelve months', () => {
    const days = daysOf(keptAfter(500));
    expect(days.filter((day) => day >= 493)).toEqual([493, 494, 495, 496, 497, 498, 499]);
    expect(days.filter((day) => day > 499 - 35).length).toBeGreaterThanOrEqual(11);
    const months = new Set(days.map((day) => new Date(start + day * msPerDay).toISOString().slice(0, 7)));
    expect(months.size).toBe(12);
    expect(days.length).toBeLessThanOrEqual(7 + 5 + 12);
  });

  it('never lets the last proven one go, however many fail after it', () => {
    const kept = keptAfter(400, (day) => day <= 5);
    expect(daysOf(kept.filter(({ proven }) => proven)).at(-1)).toBe(5);
  });

  it('keeps all of a machine that was off for long, and three before upgrades', () => {
    expect(backupsToDrop([nightly(0), nightly(1000), nightly(2000)])).toEqual([]);
    const upgrades = [0, 1, 2, 3, 4].map((hour) => ({
      ...nightly(0),
      name: `upgrade ${hour}`,
      madeAt: start + hour,
      reason: 'upgrade',
    }));
    expect(backupsToDrop([...upgrades, nightly(1)])).toEqual(['upgrade 0', 'upgrade 1']);
    expect(backupsToDrop([])).toEqual([]);
  });

  it("keeps the last night's where one was asked for on the same day, so that the night's is not due again", () => {
    const asked = { ...nightly(3), name: 'asked', madeAt: nightly(3).madeAt + 3_600_000, reason: 'asked' };
    expect(backupsToDrop([nightly(2), nightly(3), asked])).toEqual([]);
    const next = { ...asked, name: 'asked again', madeAt: nightly(4).madeAt + 3_600_000 };
    expect(backupsToDrop([nightly(3), asked, nightly(4), next])).toEqual(['day 3']);
  });
});

describe('the nightly backup', () => {
  // Zones and their nights of summer time: IANA Time Zone Database (from memory).
  it.each([
    ['Europe/Berlin', Date.UTC(2026, 2, 20, 12)],
    ['Europe/Berlin', Date.UTC(2026, 9, 20, 12)],
    ['Australia/Lord_Howe', Date.UTC(2026, 3, 1, 12)],
    ['America/New_York', Date.UTC(2026, 10, 1, 12)],
    ['Pacific/Apia', Date.UTC(2026, 0, 1, 12)],
  ])('is due once a day in %s from %d', (timeZone, from) => {
    let lastMadeAt: number | null = from;
    let made = 0;
    for (let minute = 0; minute < 14 * 1440; minute += 5) {
      const now = from + minute * 60_000;
      if (!isNightlyDue({ now, timeZone, lastMadeAt, lastFailedAt: null })) continue;
      lastMadeAt = now;
      made += 1;
    }
    expect(made).toBe(14);
  });

  it('waits an hour after one that failed, and trusts no clock that was far ahead', () => {
    const due = { now: start, timeZone: 'UTC', lastMadeAt: null, lastFailedAt: null };
    expect(isNightlyDue(due)).toBe(true);
    expect(isNightlyDue({ ...due, lastFailedAt: start - 59 * 60_000 })).toBe(false);
    expect(isNightlyDue({ ...due, lastFailedAt: start - 60 * 60_000 })).toBe(true);
    expect(isNightlyDue({ ...due, lastMadeAt: start + 3650 * msPerDay })).toBe(true);
    expect(isProofLate(start, start + 1.5 * msPerDay)).toBe(false);
    expect(isProofLate(start, start + 1.51 * msPerDay)).toBe(true);
    expect(isProofLate(start + 3650 * msPerDay, start)).toBe(true);
    expect(isProofLate(null, start)).toBe(true);
  });
});

describe('names and sums', () => {
  it('are read back as they were written, and nothing else is', () => {
    expect(backupName(Date.UTC(2026, 10, 25, 1, 30), 'nightly')).toBe('20261125T013000Z-nightly');
    expect(isBackupName('20261125T013000Z-nightly-2')).toBe(true);
    for (const name of ['..', '20261125T013000Z-nightly/..', '.under-way-1', 'x'])
      expect(isBackupName(name)).toBe(false);
    const line = `${'0'.repeat(64)}  manifest.json\n`;
    expect(writeSums(readSums(line) ?? [])).toBe(line);
    for (const text of [
      '',
      line.trim(),
      line + line,
      line.replace('  ', ' '),
      `${line}x`,
      line.replaceAll('0', 'A'),
    ])
      expect(readSums(text)?.size ?? 0).toBe(0);
  });
});
