import { mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { demoPeople } from '../../ops/demo/business.ts';
import { makeDemo } from '../../ops/demo/make.ts';
import { hashPassword, nobodysHash } from '../../server/plumbing/passwords.ts';
import { signIn, tokenOn } from '../running/acting.ts';
import { freePort } from '../running/fronts.ts';
import { type Service, startService } from '../running/real-service.ts';
import { Wanderer } from '../running/wanderer.ts';

// `npm run prove -- sign-ins`: OWASP ASVS 5.0, 11.4.2. What a hash costs and how many are made at once: hashing.test.ts.

const folder = mkdtempSync(join(tmpdir(), 'sign-ins-'));
const [owner] = demoPeople;
const figures: Record<string, unknown>[] = [];
let service: Service;
let at = '';

beforeAll(async () => {
  mkdirSync(join(folder, 'demo'), { mode: 0o700 });
  await makeDemo(join(folder, 'demo', 'broodbench.db'), Date.now(), () => {});
  const port = String(await freePort());
  at = `http://127.0.0.1:${port}`;
  const settings = { PORT: port, BASE_URL: at, PLAIN_HTTP: 'yes', TRUSTED_PROXIES: '127.0.0.1' };
  service = await startService(join(folder, 'demo'), join(folder, 'data'), settings);
}, 300_000);
afterAll(async () => {
  console.table(figures);
  await service.stop();
  rmSync(folder, { recursive: true, force: true });
});

const memoryMb = (name: 'VmRSS' | 'VmHWM') =>
  Number(new RegExp(`${name}:\\s+(\\d+)`).exec(readFileSync(`/proc/${service.pid}/status`, 'utf8'))?.[1]) /
  1024;
const share = (list: readonly number[], part: number) =>
  [...list].sort((a, b) => a - b)[Math.min(list.length - 1, Math.floor(list.length * part))] ?? 0;

/** A line that lies idle is closed by the service; whoever signs in opens a new one. */
const closing = { Connection: 'close' };

/** Asks for a page again and again until told to stop; how long each took. */
async function asking(who: Wanderer, path: string, going: () => boolean): Promise<number[]> {
  const times: number[] = [];
  while (going()) {
    const begun = performance.now();
    expect((await who.ask(at + path)).status).toBe(200);
    times.push(performance.now() - begun);
    await new Promise((next) => setTimeout(next, 20));
  }
  return times;
}

it('hashes as dearly as is asked for', async () => {
  for (const stored of [await hashPassword('moss under the old oak'), nobodysHash])
    expect(stored).toMatch(/^\$argon2id\$v=19\$m=65536,t=3,p=1\$/);
});

const waves = Number(process.env.SIGN_IN_WAVES ?? 6);

it('lets others go on while 64 people sign in at once, again and again', async () => {
  if (!owner) throw new Error('the demo has nobody');
  const who = await signIn(at, owner, '');
  for (let count = 0; count < 20; count += 1) await who.ask(`${at}/round`);
  const strangers = await Promise.all(
    Array.from({ length: 64 }, async (_, place) => {
      const one = new Wanderer('');
      const { text } = await one.ask(`${at}/sign-in`, { headers: closing });
      return { one, _csrf: tokenOn(text), from: `198.51.100.${place}` };
    }),
  );
  const until = performance.now() + 3_000;
  const before = await asking(who, '/round', () => performance.now() < until);
  const statuses: Record<string, number> = {};
  const took: number[] = [];
  let isOver = false;
  const others = asking(who, '/round', () => !isOver);
  for (let wave = 0; wave < waves; wave += 1) {
    const answers = await Promise.all(
      strangers.map(async ({ one, _csrf, from }, place) => {
        const begun = performance.now();
        const fields = { _csrf, signInName: `name${wave}-${place}`, password: 'three brown snails' };
        const answer = await one
          .send(`${at}/sign-in`, fields, {
            headers: { 'X-Forwarded-For': from, ...closing },
          })
          .catch(() => null);
        took.push(performance.now() - begun);
        return String(answer?.status ?? 'closed');
      }),
    );
    for (const status of answers) statuses[status] = (statuses[status] ?? 0) + 1;
  }
  isOver = true;
  const times = await others;
  const ms = (list: readonly number[], part: number) => Math.round(share(list, part));
  figures.push({
    pages: times.length,
    'p50 before': ms(before, 0.5),
    'p99 before': ms(before, 0.99),
    'p50 meanwhile': ms(times, 0.5),
    'p99 meanwhile': ms(times, 0.99),
    'a sign-in, p50': ms(took, 0.5),
    'a sign-in, most': ms(took, 1),
    answers: JSON.stringify(statuses),
    'MB most': Math.round(memoryMb('VmHWM')),
  });
  expect(memoryMb('VmHWM')).toBeLessThan(512);
  expect(Object.keys(statuses).sort()).toEqual(['422', '429']);
  expect(share(times, 0.99)).toBeLessThan(300);
}, 600_000);
