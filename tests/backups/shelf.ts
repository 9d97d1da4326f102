import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Writable } from 'node:stream';
import { commands } from '../../ops/admin-commands.ts';
import { takeBackup } from '../../server/backups/take.ts';
import { sha256OfFile } from '../../server/plumbing/lasting-files.ts';
import { databaseName, manifestName, sumsName, writeSums } from '../../shared/backups/manifest.ts';
import { testNow } from '../support/test-app.ts';
import { furnishedBench } from '../support/walk.ts';

const folders: string[] = [];

export function freshFolder(): string {
  const made = mkdtempSync(join(tmpdir(), 'backups-'));
  folders.push(made);
  return made;
}

export const clearFolders = () => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
};

/** A data folder with one of everything, as a service that was stopped left it. */
export async function filledFolder() {
  const t = await furnishedBench();
  const dir = freshFolder();
  const database = join(dir, databaseName);
  t.sqlite.prepare('VACUUM INTO ?').run(database);
  return { ...t, dir, database, shelf: join(dir, 'backups') };
}

export const backupOf = (bench: { database: string; shelf: string }, now = testNow) =>
  takeBackup({ ...bench, reason: 'nightly', now });

/** Changes the manifest of a backup as somebody would who also mends the checksums. */
export function forge(folder: string, change: (manifest: Record<string, unknown>) => void) {
  const path = join(folder, manifestName);
  const manifest = JSON.parse(readFileSync(path, 'utf8')) as Record<string, unknown>;
  change(manifest);
  writeFileSync(path, JSON.stringify(manifest));
  const sums = [databaseName, manifestName].map((name) => [name, sha256OfFile(join(folder, name))] as const);
  writeFileSync(join(folder, sumsName), writeSums(sums));
}

/** Runs an administrator's command as the command line does. */
export async function run(name: string, args: string[], env: NodeJS.ProcessEnv = {}, now = testNow) {
  const said = { output: '', errors: '' };
  const stream = (key: keyof typeof said) =>
    new Writable({
      write(chunk, _encoding, done) {
        said[key] += String(chunk);
        done();
      },
    });
  const world = { output: stream('output'), errors: stream('errors'), env, now: () => now };
  const code = await commands[name]!(args, world);
  return { code, ...said };
}
