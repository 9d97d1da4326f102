// `npm run screenshots`: takes the pictures of the README's tour anew from the demo. Needs Chromium (CHROMIUM=path, or
// where Debian installs it) and pdftoppm; not part of the tests.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type BrowserContext, chromium } from 'playwright-core';
import { demoPeople } from './demo/business.ts';
import { startDemo } from './demo/start.ts';

const tour = fileURLToPath(new URL('../static/tour', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'broodbench-tour-'));
const { base, stop } = await startDemo(folder);

async function signIn(context: BrowserContext) {
  const page = await context.newPage();
  const [owner] = demoPeople;
  await page.goto(`${base}/sign-in`);
  await page.fill('input[name=signInName]', owner.signInName);
  await page.fill('input[name=password]', owner.password);
  await Promise.all([
    page.waitForURL((url) => url.pathname !== '/sign-in'),
    page.click('main button[type=submit]'),
  ]);
  return page;
}

/** A page of a PDF as a picture. */
async function paper(context: BrowserContext, path: string, name: string, number = 1) {
  const answer = await context.request.get(base + path);
  if (!answer.ok()) throw new Error(`${path} answered ${answer.status()}`);
  const file = join(folder, `${name}.pdf`);
  writeFileSync(file, await answer.body());
  execFileSync('pdftoppm', [
    '-r',
    '70',
    '-png',
    '-f',
    String(number),
    '-l',
    String(number),
    '-singlefile',
    file,
    join(tour, name),
  ]);
}

const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: [
    '--no-sandbox',
    '--disable-gpu',
    '--disable-quic',
    '--no-first-run',
    '--disable-background-networking',
    '--disable-component-update',
    '--disable-sync',
  ],
});
try {
  const desk = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  const page = await signIn(desk);
  for (const [path, name] of [
    ['/cultures/AM-001', 'culture'],
    ['/surplus', 'surplus'],
    ['/parcels/packing', 'packing-day'],
    ['/round/map', 'racks'],
  ] as const) {
    await page.goto(base + path);
    // A face that is met first is there from the next page on.
    await page.reload();
    await page.screenshot({ path: join(tour, `${name}.png`) });
  }
  await paper(desk, '/orders/4/packing-sheet.pdf', 'packing-sheet');
  // the first page is the card for the day the box arrives
  await paper(desk, '/orders/4/care-sheets.pdf', 'care-sheet', 2);
  const phone = await browser.newContext({ viewport: { width: 390, height: 844 } });
  const small = await signIn(phone);
  await small.goto(`${base}/round`);
  await small.reload();
  await small.screenshot({ path: join(tour, 'round-phone.png') });
} finally {
  await browser.close();
  await stop();
  rmSync(folder, { recursive: true, force: true });
}
