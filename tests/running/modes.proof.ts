// `npm run prove -- modes`: under a umask that would let everybody read and write, whatever the service and its commands
// make stays its owner's: a new installation, backups, an upgrade, a restore, an export.
import { execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import { chmodSync, mkdirSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, expect, it } from 'vitest';
import { readMigrations } from '../../server/plumbing/migrate.ts';
import { clearFolders, freshFolder } from '../backups/shelf.ts';
import { folderAt } from '../faults/older.ts';
import { pause } from '../faults/signed-in.ts';
import { endStage, makeStage, type Running, type Stage, startService } from '../faults/storm.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const umask = process.umask(0);
const services = new Set<Running>();
const stages: Stage[] = [];
afterAll(() => {
  process.umask(umask);
  for (const { child } of services) child.kill('SIGKILL');
  for (const stage of stages) endStage(stage);
  clearFolders();
});

let looked = 0;
/** Everything that more people than its owner may do something with, the folder itself included. */
function tooOpen(folder: string): string[] {
  const below = readdirSync(folder, { recursive: true, withFileTypes: true });
  const paths = [folder, ...below.map(({ parentPath, name }) => join(parentPath, name))];
  looked += paths.length;
  return paths.flatMap((path) => {
    const stat = statSync(path);
    const right = stat.isDirectory() ? 0o700 : 0o600;
    return (stat.mode & 0o777) === right ? [] : [`${path} ${(stat.mode & 0o777).toString(8)}`];
  });
}

/** Starts the service, looks while it runs and once it has ended. */
async function lookAt(folder: string) {
  const service = await startService(folder);
  services.add(service);
  expect(service.address, service.said()).not.toBe('');
  for (let waited = 0; waited < 60_000 && !readdirSync(folder).includes('reserve'); waited += 50)
    await pause(50);
  const found = tooOpen(folder);
  service.child.kill('SIGTERM');
  expect(await service.ended, service.said()).toBe(0);
  services.delete(service);
  return [...found, ...tooOpen(folder)];
}

const command = (words: string[], env: Record<string, string>) =>
  execFileSync('npm', ['run', '--silent', ...words], {
    cwd: root,
    env: { PATH: process.env.PATH, HOME: process.env.HOME, ...env },
    stdio: 'pipe',
  });

it('leaves nothing that others may read', async () => {
  const stage = await makeStage();
  stages.push(stage);
  // As it was copied from elsewhere, with the rights that were common there.
  for (const path of [stage.database, stage.folder]) chmodSync(path, 0o777);
  expect(await lookAt(stage.folder)).toEqual([]);
  const env = { DATA_DIR: stage.folder };
  command(['backup'], env);
  expect(tooOpen(stage.folder)).toEqual([]);
  const older = join(freshFolder(), 'older');
  mkdirSync(older);
  folderAt(readMigrations().length - 3, older);
  expect(await lookAt(older)).toEqual([]);
  const shelf = join(stage.folder, 'backups');
  const [backup = ''] = readdirSync(shelf).filter((name) => name.endsWith('-asked'));
  const restored = join(freshFolder(), 'restored');
  command(['restore', '--', join(shelf, backup), '--into', restored], env);
  expect(tooOpen(restored)).toEqual([]);
  expect(await lookAt(restored)).toEqual([]);
  console.log(`${looked} files and folders under umask 000: files 0600, folders 0700`);
}, 600_000);

it('makes a new installation as its owner’s alone', async () => {
  const folder = join(freshFolder(), 'new', 'data');
  const child = spawn(process.execPath, ['ops/start.mjs'], {
    cwd: root,
    env: { PATH: process.env.PATH, DATA_DIR: folder, PORT: '0', LOG_LEVEL: 'error' },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const ended = once(child, 'exit');
  for await (const piece of child.stdout) if (String(piece).includes('Not set up yet')) break;
  expect(tooOpen(folder)).toEqual([]);
  child.kill('SIGTERM');
  expect(await ended).toEqual([0, null]);
  expect(tooOpen(folder)).toEqual([]);
}, 120_000);
