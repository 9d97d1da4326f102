// `npm run prove -- alone`: the service in a network of its own, in which there is nothing but this machine, is used for
// a while, by programs and by a browser, while every connection that it tries is written down. Needs Linux, unshare, ip,
// strace and Chromium.
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoPeople } from '../../ops/demo/business.ts';
import { makeDemo } from '../../ops/demo/make.ts';
import { startMailServer } from '../support/mail-server.ts';
import { signIn, submit } from './acting.ts';
import { crawl } from './crawl.ts';
import { freePort } from './fronts.ts';
import { type Service, startService } from './real-service.ts';

const folder = mkdtempSync(join(tmpdir(), 'alone-'));
const traced = join(folder, 'tries');
const [owner, helper] = demoPeople;
const figures: Record<string, unknown> = {};
let at = '';
let service: Service;
let mailPort = 0;

const pause = (ms: number) => new Promise((done) => setTimeout(done, ms));

/** Every address outside the machine's own files that a process of the service has turned to: `127.0.0.1:25`. */
function tries(): string[] {
  const found: string[] = [];
  for (const line of readFileSync(traced, 'utf8').split('\n')) {
    const [, family = '', rest = ''] = /sa_family=(AF_\w+)(.*)/.exec(line) ?? [];
    if (family === '' || family === 'AF_UNIX' || family === 'AF_UNSPEC') continue;
    const port = /sin6?_port=htons\((\d+)\)/.exec(rest)?.[1];
    const address = /inet_addr\("([^"]+)"\)|inet_pton\(AF_INET6, "([^"]+)"/.exec(rest);
    found.push(`${address?.[1] ?? address?.[2] ?? family}:${port}`);
  }
  return found;
}

beforeAll(async () => {
  execFileSync('ip', ['link', 'set', 'lo', 'up']);
  mkdirSync(join(folder, 'demo'), { mode: 0o700 });
  await makeDemo(join(folder, 'demo/broodbench.db'), Date.now(), () => {});
  mailPort = await freePort();
  const port = await freePort();
  at = `http://127.0.0.1:${port}/bench`;
  const settings = {
    PORT: String(port),
    BASE_URL: at,
    SMTP_HOST: '127.0.0.1',
    SMTP_PORT: String(mailPort),
    SMTP_ENCRYPTION: 'none',
    MAIL_FROM: 'bench@example.org',
  };
  const calls = 'trace=connect,sendto,sendmsg,sendmmsg';
  const watched = ['strace', '-D', '-f', '-qq', '-e', calls, '-e', 'signal=none', '-o', traced];
  service = await startService(join(folder, 'demo'), join(folder, 'data'), settings, watched);
}, 300_000);
afterAll(async () => {
  console.table([figures]);
  await service.stop();
  rmSync(folder, { recursive: true, force: true });
});

describe('a service that is alone in its network', () => {
  it('really is', () => {
    const lines = readFileSync('/proc/net/dev', 'utf8').trim().split('\n').slice(2);
    expect(lines.map((line) => line.split(':')[0]?.trim())).toEqual(['lo']);
  });

  it('shows every page, with nothing in it from elsewhere', async () => {
    const who = await signIn(at, owner, '');
    const walked = await crawl(who, at);
    expect(walked.wrong).toEqual([]);
    Object.assign(figures, { pages: walked.pages, links: walked.links });
    who.end();
  }, 300_000);

  it('writes a check, makes, confirms and packs an order, decides a packing day, and sends its mails', async () => {
    const mail = await startMailServer({ port: mailPort });
    const [who, staff] = [await signIn(at, owner, ''), await signIn(at, helper, '')];
    const round = await staff.ask(`${at}/round`);
    const code = /data-code="([^"]+)"/.exec(round.text)?.[1] ?? '';
    expect((await submit(staff, `${at}/cultures/${code}/check`, /\/check$/, {})).status).toBe(303);
    expect((await submit(who, `${at}/mails`, /\/mails\/test$/)).status).toBe(303);
    const orders = await who.ask(`${at}/orders`);
    const numbers = [...new Set([...orders.text.matchAll(/\/orders\/(\d+)"/g)].map(([, number]) => number))];
    let steps = 0;
    for (const number of numbers)
      for (const step of ['confirm', 'pack', 'sent', 'close']) {
        const page = `${at}/orders/${number}${step === 'pack' ? '/pack' : ''}`;
        const answer = await submit(who, page, new RegExp(`/${step}$`)).catch(() => null);
        if (answer?.status === 303) steps += 1;
      }
    expect(steps).toBeGreaterThan(2);
    expect((await who.ask(`${at}/parcels/packing`)).status).toBe(200);
    // A mail of an order waits a minute, so that an undo stops it.
    for (let waited = 0; mail.received.length < 2 && waited < 150; waited += 1) await pause(1_000);
    expect(mail.received.length).toBeGreaterThan(1);
    for (const { raw } of mail.received) {
      const plain = raw.replaceAll('=\r\n', '').replaceAll('=3D', '=');
      for (const [address] of plain.matchAll(/https?:\/\/127\.0\.0\.1[^\s"<]*/g))
        expect(address.startsWith(at)).toBe(true);
    }
    Object.assign(figures, { steps, mails: mail.received.length });
    who.end();
    staff.end();
  }, 300_000);

  it('lets a browser ask nobody else', async () => {
    const started = await chromium.launch({
      executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
      args: ['--headless', '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run'],
    });
    const page = await started.newPage();
    const asked: string[] = [];
    const said: string[] = [];
    page.on('request', (request) => asked.push(request.url()));
    page.on('console', (line) => line.type() === 'error' && said.push(line.text()));
    await page.goto(`${at}/sign-in`);
    await page.locator('input[name="signInName"]').fill(owner.signInName);
    await page.locator('input[name="password"]').fill(owner.password);
    await page.locator('main button.button-main').click();
    for (const path of [
      '/round',
      '/orders',
      '/parcels/packing',
      '/surplus',
      '/climate',
      '/settings',
      '/available',
    ])
      await page.goto(`${at}${path}`, { waitUntil: 'load' });
    expect(asked.filter((address) => !address.startsWith(`${at}/`) && !address.startsWith('data:'))).toEqual(
      [],
    );
    expect(said.filter((line) => !line.includes('404'))).toEqual([]);
    Object.assign(figures, { asked: asked.length });
    await started.close();
  }, 120_000);

  it('has turned to nobody but the mail server that was named', () => {
    const found = tries();
    Object.assign(figures, { toMail: found.length });
    expect([...new Set(found)]).toEqual([`127.0.0.1:${mailPort}`]);
  });
});
