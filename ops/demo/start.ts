import { spawn } from 'node:child_process';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const demo = fileURLToPath(new URL('../demo.ts', import.meta.url));

async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((next) => server.listen(0, '127.0.0.1', next));
  const { port } = server.address() as AddressInfo;
  await new Promise((next) => server.close(next));
  return port;
}

/** The demo in a process of its own, as `npm run demo` starts it, in a folder that is thrown away. */
export async function startDemo(folder: string) {
  const port = await freePort();
  const child = spawn(process.execPath, ['--import', 'tsx', demo], {
    env: { ...process.env, PORT: String(port), DEMO_DIR: join(folder, 'demo') },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  await new Promise<void>((ready, failed) => {
    child.stdout.on('data', (bytes: Buffer) => {
      if (String(bytes).includes('in a browser')) ready();
    });
    child.on('exit', () => failed(new Error('the demo ended before it was ready')));
  });
  const stop = () =>
    new Promise((next) => {
      child.on('exit', next);
      child.kill();
    });
  return { base: `http://127.0.0.1:${port}`, stop };
}
