import {
  cpSync,
  existsSync,
  readFileSync,
  renameSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { BadBackup, verifyBackup } from '../../server/backups/inspect.ts';
import { giveTo, ownerOf } from '../../server/backups/owner.ts';
import { putBack } from '../../server/backups/put-back.ts';
import { AlreadyInUse, holdFolder } from '../../server/plumbing/one-instance.ts';
import { openCopy } from '../../server/plumbing/open-database.ts';
import { databaseName, manifestName, sumsName } from '../../shared/backups/manifest.ts';
import { randomFrom } from '../support/random.ts';
import { testNow } from '../support/test-app.ts';
import { backupOf, clearFolders, filledFolder, forge, freshFolder } from './shelf.ts';

afterAll(clearFolders);

const names = [databaseName, manifestName, sumsName];

async function goodBackup() {
  const { folder } = await backupOf(await filledFolder());
  return folder;
}

/** A copy of a backup that may be spoilt. */
function copyOf(folder: string): string {
  const copy = join(freshFolder(), 'copy');
  cpSync(folder, copy, { recursive: true });
  return copy;
}

describe('a backup is refused', () => {
  it('wherever it was cut off, and whichever bit was turned', async () => {
    const copy = copyOf(await goodBackup());
    const random = randomFrom(400);
    for (const name of names) {
      const path = join(copy, name);
      const whole = readFileSync(path);
      const points = name === databaseName ? 30 : 10;
      for (let point = 0; point < points; point += 1) {
        truncateSync(path, Math.floor((whole.length * point) / points));
        expect(() => verifyBackup(copy), `${name} cut at ${point}/${points}`).toThrow(BadBackup);
        writeFileSync(path, whole);
      }
      for (let flip = 0; flip < 134; flip += 1) {
        const spoilt = Buffer.from(whole);
        const at = Math.floor(random.uniform() * spoilt.length);
        spoilt[at] = spoilt[at]! ^ (1 << Math.floor(random.uniform() * 8));
        writeFileSync(path, spoilt);
        expect(() => verifyBackup(copy), `${name}, byte ${at}`).toThrow(BadBackup);
      }
      writeFileSync(path, whole);
    }
    expect(verifyBackup(copy).manifest.format).toBe(1);
  });

  it('when it is of a later version, names other files, or is not what it says', async () => {
    const good = await goodBackup();
    const forged = (change: (manifest: Record<string, unknown>) => void) => {
      const copy = copyOf(good);
      forge(copy, change);
      return copy;
    };
    expect(() => verifyBackup(forged((m) => (m.schema = 999)))).toThrow(
      /with schema 999; this program knows/,
    );
    for (const name of ['../../etc/passwd', '/etc/passwd', 'a\\b', 'broodbench.db/../x', '']) {
      const slipped = forged((m) => Object.assign((m.files as object[])[0]!, { name }));
      expect(() => verifyBackup(slipped), name).toThrow(BadBackup);
    }
    const others = { format: 2, rows: { people: 7 }, schema: 1, files: [], appVersion: '', reason: 'other' };
    for (const [key, value] of Object.entries(others))
      expect(() => verifyBackup(forged((m) => (m[key] = value))), key).toThrow(BadBackup);
    const linked = copyOf(good);
    renameSync(join(linked, databaseName), join(linked, 'elsewhere'));
    symlinkSync(join(linked, 'elsewhere'), join(linked, databaseName));
    expect(() => verifyBackup(linked)).toThrow(/not a plain file/);
    expect(() => verifyBackup(join(good, 'nowhere'))).toThrow(BadBackup);
  });

  it('when its rows have lost what they belong to, though every checksum is right', async () => {
    const copy = copyOf(await goodBackup());
    const sqlite = openCopy(join(copy, databaseName), { readonly: false });
    sqlite.pragma('foreign_keys = OFF');
    sqlite.exec("DELETE FROM people WHERE id = 'person-helper'");
    sqlite.close();
    const bytes = readFileSync(join(copy, databaseName)).length;
    forge(copy, (m) => {
      Object.assign(m, { rows: { ...(m.rows as object), people: 1 } });
      Object.assign((m.files as object[])[0]!, { bytes });
    });
    // The sum inside the manifest is still the old one.
    expect(() => verifyBackup(copy)).toThrow(/two checksums/);
    forge(copy, (m) => {
      const sum = readFileSync(join(copy, sumsName), 'utf8').slice(0, 64);
      Object.assign((m.files as object[])[0]!, { sha256: sum });
    });
    expect(() => verifyBackup(copy)).toThrow(/does not hold together: \d+ rows have lost/);
  });

  it('before anything of what is there is touched', async () => {
    const bench = await filledFolder();
    const { folder } = await backupOf(bench);
    const before = readFileSync(bench.database);
    const copy = copyOf(folder);
    truncateSync(join(copy, databaseName), 5000);
    expect(() => putBack(copy, bench.dir, { now: testNow, force: true })).toThrow(BadBackup);
    expect(() => putBack(folder, bench.dir, { now: testNow, force: false })).toThrow(/--force/);
    const fresh = join(freshFolder(), 'new');
    expect(() => putBack(copy, fresh, { now: testNow, force: false })).toThrow(BadBackup);
    expect(existsSync(fresh)).toBe(false);
    expect(readFileSync(bench.database).equals(before)).toBe(true);
  });
});

describe('a restore over what is there', () => {
  it('keeps it whole under a dated name, with a stale log', async () => {
    const bench = await filledFolder();
    const { folder } = await backupOf(bench);
    const before = readFileSync(bench.database);
    writeFileSync(`${bench.database}-wal`, 'stale');
    const { kept } = putBack(folder, bench.dir, { now: testNow, force: true });
    expect(kept).toBe(join(bench.dir, 'before-restore-20261125T110000Z'));
    expect(readFileSync(join(kept ?? '', databaseName)).equals(before)).toBe(true);
    expect(readFileSync(join(kept ?? '', `${databaseName}-wal`), 'utf8')).toBe('stale');
    expect(existsSync(`${bench.database}-wal`)).toBe(false);
    expect(verifyBackup(folder).folder).toBe(folder);
    writeFileSync(`${bench.database}-shm`, 'stale');
    const again = putBack(folder, bench.dir, { now: testNow, force: true });
    expect(again.kept).toBe(join(bench.dir, 'before-restore-20261125T110000Z-2'));
  });

  it('is refused while a service works there', async () => {
    const bench = await filledFolder();
    const { folder } = await backupOf(bench);
    const held = holdFolder(bench.dir, 'the service');
    expect(() => putBack(folder, bench.dir, { now: testNow, force: true })).toThrow(AlreadyInUse);
    expect(() => holdFolder(bench.dir, 'another')).toThrow(/in use \(the service, process \d+ on /);
    held.release();
    expect(putBack(folder, bench.dir, { now: testNow, force: true }).kept).not.toBeNull();
  });

  it('into a folder that is named by a link, and belongs to whom the folder belongs', async () => {
    const folder = await goodBackup();
    const into = freshFolder();
    const link = join(freshFolder(), 'link');
    symlinkSync(into, link);
    putBack(folder, link, { now: testNow, force: false });
    expect(existsSync(join(into, databaseName))).toBe(true);
    const given: string[] = [];
    const means = {
      isRoot: true,
      change: (path: string, uid: number, gid: number) => given.push(`${path} ${uid} ${gid}`),
    };
    giveTo({ uid: 61_234, gid: 5 }, into, means);
    expect(given).toContain(`${join(into, databaseName)} 61234 5`);
    const known = given.length;
    giveTo({ uid: 61_234, gid: 5 }, into, { ...means, isRoot: false });
    giveTo(ownerOf(into), into, means);
    giveTo(ownerOf(join(into, 'nothing')), into, means);
    expect(given).toHaveLength(known);
  });
});
