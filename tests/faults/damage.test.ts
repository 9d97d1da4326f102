import { readFileSync } from 'node:fs';
import { afterAll, describe, expect, it } from 'vitest';
import { openDatabase } from '../../server/plumbing/open-database.ts';
import { backupOf, clearFolders, filledFolder } from '../backups/shelf.ts';
import { randomFrom } from '../support/random.ts';
import { type Crashed, damages, meet } from './damage.ts';

/** `npm run prove -- damage` asks for many; the suite for one of each. */
const cases = Number(process.env.DAMAGE_CASES ?? damages.length);

afterAll(clearFolders);

/** Database and log as a kill leaves them, after some writes. */
function crash(database: string, words: string): Crashed {
  const { sqlite } = openDatabase(database);
  for (let row = 0; row < 40; row += 1)
    sqlite.prepare('UPDATE customers SET note = ?').run(`${words} ${row} ${'x'.repeat(200)}`);
  sqlite.exec("UPDATE cultures SET note = 'written last'");
  const left = { database: readFileSync(database), log: readFileSync(`${database}-wal`) };
  sqlite.close();
  return left;
}

async function wholeBench() {
  const bench = await filledFolder();
  const { folder: backup } = await backupOf(bench);
  const other = await filledFolder();
  const { sqlite } = openDatabase(other.database);
  sqlite.exec('CREATE TABLE another (n INTEGER) STRICT');
  sqlite.close();
  return { backup, crashed: crash(bench.database, 'note'), other: crash(other.database, 'another note') };
}

describe('a database that is damaged', () => {
  it('ends no process, shows nobody a fault of ours, and says in words where the newest good backup is', async () => {
    const whole = await wholeBench();
    const random = randomFrom(Number(process.env.DAMAGE_SEED ?? 11));
    const counts = new Map<string, number>();
    const wrong: string[] = [];
    for (let number = 0; number < cases; number += 1) {
      const damage = damages[number % damages.length]!;
      const outcome = await meet(damage, whole, random);
      const seen =
        outcome.how === 'served'
          ? `served, ${outcome.isFound ? 'found by' : 'no fault to'} the deep check`
          : outcome.how;
      counts.set(`${damage}: ${seen}`, (counts.get(`${damage}: ${seen}`) ?? 0) + 1);
      wrong.push(...outcome.wrong.map((what) => `case ${number}, ${damage}: ${what}`));
    }
    if (process.env.DAMAGE_CASES)
      console.log(
        [`${cases} damaged databases`, ...[...counts].sort().map(([what, n]) => `${what}: ${n}`)].join('\n'),
      );
    expect(wrong).toEqual([]);
    const noticed = [...counts].filter(([what]) => /refused|maintenance|found by/.test(what));
    expect(noticed.length).toBeGreaterThan(0);
  }, 3_600_000);
});
