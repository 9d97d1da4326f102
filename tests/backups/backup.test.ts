import {
  chmodSync,
  existsSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { buildApp } from '../../server/app.ts';
import { makeKeeper } from '../../server/backups/keeper.ts';
import { putBack } from '../../server/backups/put-back.ts';
import { listBackups } from '../../server/backups/shelf.ts';
import { takeInThread } from '../../server/backups/take-in-thread.ts';
import { readConfig } from '../../server/config.ts';
import { watchDisk } from '../../server/plumbing/disk.ts';
import { openCopy, openDatabase } from '../../server/plumbing/open-database.ts';
import { makeSessions } from '../../server/plumbing/sessions.ts';
import { tellTroubles } from '../../server/running/tell-troubles.ts';
import { manifestName } from '../../shared/backups/manifest.ts';
import { cast, TestClock, testNow } from '../support/test-app.ts';
import { Visitor } from '../support/visitor.ts';
import { backupOf, clearFolders, filledFolder, freshFolder, run } from './shelf.ts';

afterAll(clearFolders);

const silent = { info: () => {}, error: () => {} };

/** Pages as the owner sees them, without what is new in each answer. */
async function pagesOver(opened: ReturnType<typeof openDatabase>) {
  const clock = new TestClock();
  const app = await buildApp({ ...opened, clock, config: { ...readConfig({}), logLevel: 'silent' } });
  await app.ready();
  const owner = new Visitor(app, await makeSessions(opened.db, clock).begin(cast.owner.id, 'test'));
  const pages: Record<string, string> = {};
  for (const path of ['/round', '/surplus', '/cultures', '/species', '/orders', '/orders/1', '/customers']) {
    const { status, text } = await owner.get(path);
    expect(`${path} ${status}`).toBe(`${path} 200`);
    pages[path] = text
      .replace(/"csrf-token":"[^"]*"|csrf-token&quot;:&quot;[^&]*&quot;/g, 'csrf')
      .replace(/name="(_csrf|formKey)" value="[^"]*"/g, 'name="$1"')
      .replace(/_csrf=[\w.-]+/g, '_csrf');
  }
  await app.close();
  return pages;
}

describe('a backup', () => {
  it('is made while somebody writes, holds one moment of it, and comes back as the same pages', async () => {
    const bench = await filledFolder();
    const opened = openDatabase(bench.database);
    // A mail that waits is left to a person after a restore, and the page of orders says so.
    opened.sqlite.exec("UPDATE mails SET state = 'stopped', settled_at = 1000");
    const before = await pagesOver(opened);
    opened.sqlite.exec('CREATE TABLE load_a (n INTEGER) STRICT; CREATE TABLE load_b (n INTEGER) STRICT;');
    let written = 0;
    const writeBoth = opened.sqlite.transaction(() => {
      written += 1;
      opened.sqlite.prepare('INSERT INTO load_a VALUES (?)').run(written);
      opened.sqlite.prepare('INSERT INTO load_b VALUES (?)').run(written);
    });
    const timer = setInterval(() => {
      for (let i = 0; i < 5; i += 1) writeBoth();
    }, 1);
    const { shelf, database } = bench;
    const steps = new Set<string>();
    const taken = await takeInThread({ database, shelf, reason: 'asked', now: testNow }, (step) =>
      steps.add(step),
    );
    clearInterval(timer);
    opened.sqlite.close();
    expect([...steps]).toEqual(['copying', 'checking', 'proving']);
    expect(written).toBeGreaterThan(20);

    const into = join(freshFolder(), 'new', 'place');
    const { backup, kept } = putBack(taken.folder, into, { now: testNow, force: false });
    expect(kept).toBeNull();
    expect(readdirSync(into).sort()).toEqual(['broodbench.db', 'in-use.lock']);
    const { load_a: a, load_b: b } = backup.manifest.rows;
    expect(a).toBe(b);
    expect(a).toBeLessThan(written);
    const again = openDatabase(join(into, 'broodbench.db'));
    const after = await pagesOver(again);
    for (const [path, page] of Object.entries(before)) {
      const at = [...page].findIndex((letter, index) => after[path]?.charAt(index) !== letter);
      expect([path, page.slice(at, at + 80)]).toEqual([path, after[path]?.slice(at, at + 80)]);
      expect(after[path] === page).toBe(true);
    }
    again.sqlite.close();
  });

  it('brings nobody back in, opens no link again, and sends no mail a second time', async () => {
    const bench = await filledFolder();
    const { folder } = await backupOf(bench);
    const counts = (file: string) => {
      const sqlite = openCopy(file, { readonly: true });
      const count = (sql: string) => sqlite.prepare(`SELECT count(*) FROM ${sql}`).pluck().get();
      const found = [
        count('sessions'),
        count('one_time_links WHERE used_at IS NULL'),
        count("mails WHERE state IN ('waiting', 'sending')"),
        count("mails WHERE state = 'unsure'"),
        count("audit WHERE action = 'restored a backup'"),
      ];
      sqlite.close();
      return found;
    };
    expect(counts(join(folder, 'broodbench.db'))).toEqual([2, 1, 1, 0, 0]);
    const into = freshFolder();
    putBack(folder, into, { now: testNow, force: false });
    expect(counts(join(into, 'broodbench.db'))).toEqual([0, 0, 0, 1, 1]);
  });

  it('is for the eyes of its owner alone, whatever the umask', async () => {
    const bench = await filledFolder();
    const umask = process.umask(0);
    try {
      const { folder } = await backupOf(bench);
      const into = join(freshFolder(), 'restored');
      putBack(folder, into, { now: testNow, force: false });
      for (const dir of [bench.shelf, folder, into]) {
        expect(statSync(dir).mode & 0o777).toBe(0o700);
        for (const name of readdirSync(dir)) {
          const { mode } = statSync(join(dir, name));
          expect([name, mode & 0o077]).toEqual([name, 0]);
        }
      }
    } finally {
      process.umask(umask);
    }
  });

  it('is made, verified and restored by command, and sent on by the program of the settings', async () => {
    const bench = await filledFolder();
    const sent = join(freshFolder(), 'sent');
    const hook = join(freshFolder(), 'hook.sh');
    writeFileSync(hook, `#!/bin/sh\ncp -r "$1" ${sent} && echo "$SMTP_PASSWORD" > ${sent}/secret\n`);
    chmodSync(hook, 0o755);
    const env = { DATA_DIR: bench.dir, BACKUP_HOOK: hook, SMTP_PASSWORD: 'planted' };
    const made = await run('backup', [], env);
    expect([made.code, made.errors]).toEqual([0, '']);
    const folder = made.output.split('\n')[0] ?? '';
    expect(listBackups(bench.shelf)).toMatchObject([{ folder, reason: 'asked', provenAt: testNow }]);
    expect(readFileSync(join(sent, 'secret'), 'utf8')).toBe('\n');

    const verified = await run('verify', [sent]);
    expect(verified).toMatchObject({ code: 0, errors: '' });
    expect(verified.output).toMatch(/^Whole: made 2026-11-25T11:00:00.000Z by version /);
    const refused = await run('restore', [sent, '--into', bench.dir]);
    expect(refused.code).toBe(1);
    expect(refused.errors).toContain('holds a database already');
    const restored = await run('restore', [sent, '--force'], env);
    expect([restored.code, restored.errors]).toEqual([0, '']);
    expect(restored.output).toContain('Everybody signs in anew');

    writeFileSync(hook, '#!/bin/sh\necho "no signal" >&2; exit 3\n');
    const unsent = await run('backup', [], env, testNow + 60_000);
    expect(unsent.code).toBe(1);
    expect(unsent.errors).toMatch(/was not sent on: .*ended with 3: no signal/);
    expect(listBackups(bench.shelf)).toHaveLength(2);
    for (const name of ['backup', 'restore', 'verify'])
      expect((await run(name, ['--help'])).output).toContain(`npm run ${name}`);
    expect((await run('restore', [])).code).toBe(2);
    expect((await run('verify', ['--nonsense'])).code).toBe(2);
  });
});

describe('the keeper of the backups', () => {
  it('makes one a day, and says so on the pages and by mail when none could be proven for a day and a half', async () => {
    const bench = await filledFolder();
    const { clock, db, sqlite, database, shelf } = bench;
    let made = 0;
    let isReadOnly = false;
    const keeper = makeKeeper({
      ...{ db, clock, database, shelf, log: silent, hook: null },
      take: async (taking) => {
        if (isReadOnly) throw new Error('the folder may not be written to');
        const taken = await backupOf(bench, taking.now);
        made += 1;
        return taken;
      },
    });
    const disk = watchDisk({
      folder: bench.dir,
      minFreeBytes: 0,
      clock,
      ask: () => ({ free: 9e10, total: 1e11 }),
    });
    const told = () =>
      sqlite.prepare("SELECT count(*) FROM mails WHERE kind = 'warning'").pluck().get() as number;
    const look = async (hour: number) => {
      clock.at = testNow + hour * 3_600_000;
      keeper.look();
      await keeper.idle();
      tellTroubles({ db, clock, keeper, disk });
    };
    expect(keeper.isLate()).toBe(true);
    const late: number[] = [];
    const mailed: number[] = [];
    for (let hour = 0; hour < 30 * 24; hour += 3) {
      // First nobody may write there, then it is gone and a file is in its place.
      isReadOnly = hour >= 3 * 24 && hour < 6 * 24;
      if (hour === 6 * 24) {
        renameSync(shelf, `${shelf}-gone`);
        writeFileSync(shelf, '');
      }
      const before = told();
      await look(hour);
      if (keeper.isLate()) late.push(hour);
      if (told() > before) mailed.push(hour);
    }
    // From noon: the days 0, 1, 2 and the one that begins at two in the night before the disk goes.
    expect(made).toBe(4);
    expect(late[0]).toBeGreaterThan(3 * 24);
    expect(late[0]).toBeLessThanOrEqual(3 * 24 + 36);
    // Once on each day of the business from then on; testNow is noon there.
    const days = mailed.map((hour) => Math.floor((hour + 12) / 24));
    expect(days).toEqual(Array.from({ length: 30 - days[0]! + 1 }, (_, index) => index + days[0]!));
    expect(mailed[0]).toBe(late[0]);
    const letter = sqlite
      .prepare("SELECT subject, plain, to_address FROM mails WHERE kind = 'warning' ORDER BY id LIMIT 1")
      .get() as Record<string, string>;
    expect(letter).toMatchObject({ to_address: 'bench@example.org' });
    expect(letter.plain).toContain(
      'last backup that was restored and held together was made on Saturday 28 November 2026.',
    );
    expect(letter.plain).toContain('The last try ended with: the folder may not be written to');
    expect(keeper.lastFailure()?.why).toMatch(/EEXIST/);
    rmSync(shelf);
    renameSync(`${shelf}-gone`, shelf);
    const before = told();
    await look(31 * 24);
    await look(31 * 24 + 1);
    expect([keeper.isLate(), keeper.lastFailure(), told()]).toEqual([false, null, before]);
    expect(existsSync(join(keeper.list()[0]!.folder, manifestName))).toBe(true);
  });
});
