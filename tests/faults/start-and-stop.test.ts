import { copyFileSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { openDatabase } from '../../server/plumbing/open-database.ts';
import { Client, endStage, makeStage, type Running, type Stage, startService } from './storm.ts';
import { brokenIn, lostFrom, marksIn } from './storm-left.ts';

const running: Running[] = [];
const stages: Stage[] = [];
afterAll(() => {
  for (const { child } of running) child.kill('SIGKILL');
  for (const stage of stages) endStage(stage);
});

async function begin(folder: string, settings: Record<string, string> = {}) {
  const service = await startService(folder, settings);
  running.push(service);
  return service;
}

describe('a service that is told to stop under load', () => {
  it('answers what it took, writes its log into the database, and gives the folder back', async () => {
    const stage = await makeStage();
    stages.push(stage);
    const service = await begin(stage.folder);
    expect(service.address, service.said()).not.toBe('');
    const second = await begin(stage.folder);
    expect(await second.ended).toBe(1);
    expect(second.said()).toMatch(/is in use \(the service, process \d+ on .*\)\. Only one service may work/);

    const crowd = Array.from({ length: 6 }, (_, index) => new Client(stage, index));
    let goesOn = true;
    const work = Promise.allSettled(crowd.map((client) => client.work(service.address, () => goesOn)));
    const told = () => crowd.flatMap(({ acknowledged }) => acknowledged);
    while (told().length < 6 && service.child.exitCode === null)
      await new Promise((resolve) => setTimeout(resolve, 5));
    const asked = Date.now();
    service.child.kill('SIGTERM');
    expect(await service.ended).toBe(0);
    expect(Date.now() - asked).toBeLessThan(10_000);
    goesOn = false;
    expect((await work).filter(({ status }) => status === 'rejected')).toEqual([]);
    // SQLite takes the log and its index away when the last connection has closed in good order.
    expect(statSync(`${stage.database}-wal`, { throwIfNoEntry: false })?.size ?? 0).toBe(0);
    expect(brokenIn(stage.database)).toEqual([]);
    const { sqlite } = openDatabase(stage.database);
    const marks = marksIn(sqlite);
    expect(lostFrom(marks, told())).toEqual([]);

    // A database of a later version: refused in words, and not a byte of it changed.
    sqlite.prepare("INSERT INTO migrations VALUES (9999, '9999-later.sql', 'x', 0)").run();
    sqlite.close();
    const before = readFileSync(stage.database);
    const older = await begin(stage.folder);
    expect(await older.ended).toBe(1);
    expect(older.said()).toMatch(/has schema 9999, this program knows only up to \d+\. Nothing was changed/);
    expect(readFileSync(stage.database).equals(before)).toBe(true);

    // A database that is none any more: said in words too, with where the backups would be.
    copyFileSync(stage.database, join(stage.folder, 'kept'));
    writeFileSync(stage.database, Buffer.alloc(8_192, 'no database'));
    const damaged = await begin(stage.folder);
    expect(await damaged.ended).toBe(1);
    expect(damaged.said()).toMatch(
      /is damaged \(file is not a database\)\. Nothing was changed\. (There is no good backup in|Restore the newest good backup: npm run restore -- )/,
    );
  }, 240_000);
});
