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

const bare = (
  path: string,
) => `<!doctype html><html lang="en"><title>bare</title><main><p id="said">${path}</p>
<button>Ask</button> <a href="${path === '/a' ? '/b' : '/a'}">Next</a></main>
<script>document.querySelector('button').onclick = async () => {
  const text = await (await fetch('/part', { method: 'POST' })).text();
  document.getElementById('said').textContent = text;
};</script></html>`;

/** What a browser and a machine need for the least there is: a line of text asked for and shown, a bare page opened. */
export async function startBare() {
  let asked = 0;
  const server = createServer((request, response) => {
    asked += 1;
    response.setHeader('content-type', 'text/html; charset=utf-8');
    response.end(request.method === 'POST' ? `answer ${asked}` : bare(request.url ?? '/a'));
  });
  await new Promise<void>((next) => server.listen(0, '127.0.0.1', next));
  const { port } = server.address() as AddressInfo;
  return { base: `http://127.0.0.1:${port}`, stop: () => new Promise((next) => server.close(next)) };
}
