import { spawn } from 'node:child_process';
import { cpSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../..', import.meta.url));

export type Service = { folder: string; pid: number; said: () => string; stop: () => Promise<number | null> };

/** The service as it is really started, on a copy of a data folder, until it says where it is. */
export async function startService(
  from: string,
  folder: string,
  settings: Record<string, string>,
  before: string[] = [],
): Promise<Service> {
  cpSync(from, folder, { recursive: true });
  const [command = '', ...args] = [...before, process.execPath, '--import', 'tsx', 'server/main.ts'];
  const child = spawn(command, args, {
    cwd: root,
    env: { PATH: process.env.PATH, DATA_DIR: folder, HOST: '127.0.0.1', LOG_LEVEL: 'warn', ...settings },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let said = '';
  const ended = new Promise<number | null>((resolve) => child.once('exit', resolve));
  await new Promise<void>((resolve, reject) => {
    const listen = (chunk: Buffer) => {
      said += chunk.toString();
      if (/^(Open |Not set up)/m.test(said)) resolve();
    };
    child.stdout.on('data', listen);
    child.stderr.on('data', listen);
    void ended.then(() => reject(new Error(`the service did not start:\n${said}`)));
  });
  return {
    folder: join(folder),
    pid: child.pid ?? 0,
    said: () => said,
    stop: () => {
      child.kill('SIGTERM');
      return ended;
    },
  };
}
