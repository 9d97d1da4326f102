import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));
const running: ChildProcess[] = [];
const folders: string[] = [];

afterEach(() => {
  for (const child of running.splice(0)) child.kill('SIGKILL');
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true });
});

function dataFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'bench-'));
  folders.push(folder);
  return join(folder, 'data');
}

type Started = { child: ChildProcess; said: () => string; address: string; ended: Promise<number | null> };

/** The service as it is really started, until it says where it is. */
async function start(dataDir: string, settings: Record<string, string> = {}): Promise<Started> {
  const child = spawn(process.execPath, ['ops/start.mjs'], {
    cwd: root,
    env: {
      PATH: process.env.PATH,
      DATA_DIR: dataDir,
      PORT: '0',
      HOST: '127.0.0.1',
      LOG_LEVEL: 'info',
      ...settings,
    },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  running.push(child);
  let said = '';
  const ended = new Promise<number | null>((resolve) => child.once('exit', (code) => resolve(code)));
  const address = await new Promise<string>((resolve) => {
    const listen = (chunk: Buffer) => {
      said += chunk.toString();
      const found = /^ *(?:Open )?(http:\/\/127\.0\.0\.1:\d+\S*)/m.exec(said)?.[1];
      if (found) resolve(found);
    };
    child.stdout?.on('data', listen);
    child.stderr?.on('data', listen);
    void ended.then(() => resolve(''));
  });
  return { child, said: () => said, address, ended };
}

async function stop({ child, ended }: Started): Promise<number | null> {
  child.kill('SIGTERM');
  return ended;
}

const cookiesOf = (answer: Response) => answer.headers.getSetCookie().map((line) => line.split(';')[0]);

describe('the service', () => {
  it('starts with nothing, is set up by its printed link, stops, and starts again', async () => {
    const dataDir = dataFolder();
    const first = await start(dataDir);
    expect(first.said()).toContain('Not set up yet. Within 60 minutes, open this one-time link');
    expect(statSync(dataDir).mode & 0o777).toBe(0o700);

    const form = await fetch(first.address);
    const html = await form.text();
    const hidden = (name: string) => new RegExp(`name="${name}" value="([^"]+)"`).exec(html)?.[1] ?? '';
    const secret = 'moss under the old oak';
    const done = await fetch(new URL('/set-up', first.address), {
      method: 'POST',
      redirect: 'manual',
      headers: { cookie: cookiesOf(form).join('; ') },
      body: new URLSearchParams({
        _csrf: hidden('_csrf'),
        token: hidden('token'),
        name: 'Olive Owner',
        signInName: 'olive',
        password: secret,
        again: secret,
        businessName: 'Leafmould Lane',
        country: 'DE',
        timeZone: 'Europe/Berlin',
        currency: 'EUR',
        units: 'metric',
        paper: 'A4',
      }),
    });
    expect([done.status, done.headers.get('location')]).toEqual([303, '/']);
    const session = cookiesOf(done).join('; ');
    const people = await fetch(new URL('/people', first.address), { headers: { cookie: session } });
    expect(await people.text()).toContain('Olive Owner');
    const calendar = 'calendar'.padEnd(43, 'x');
    expect((await fetch(new URL(`/calendar/${calendar}.ics`, first.address))).status).toBe(404);
    expect(await stop(first)).toBe(0);

    const logged = first
      .said()
      .split('\n')
      .filter((line) => line.startsWith('{'));
    expect(logged.length).toBeGreaterThan(3);
    for (const planted of [
      hidden('token'),
      hidden('_csrf'),
      secret,
      session.split(/[=;]/)[1] ?? 'x',
      'olive',
      calendar,
    ])
      expect(logged.join('\n')).not.toContain(planted);
    expect(readdirSync(dataDir).sort()).toEqual(['broodbench.db', 'in-use.lock', 'reserve']);

    const second = await start(dataDir);
    expect(second.said()).not.toContain('/set-up?token=');
    const again = await fetch(new URL('/people', second.address), { headers: { cookie: session } });
    expect(again.status).toBe(200);
    expect(await stop(second)).toBe(0);
  }, 60_000);

  it('says every wrong setting at once and does not start', async () => {
    const started = await start(dataFolder(), {
      PORT: 'many',
      LOG_LEVEL: 'loud',
      BASE_URL: 'ftp://example.org',
    });
    expect(await started.ended).toBe(1);
    for (const name of ['PORT', 'LOG_LEVEL', 'BASE_URL']) expect(started.said()).toContain(`  ${name}: `);
  }, 30_000);
});
