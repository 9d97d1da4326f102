import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import { demoPeople } from '../demo/business.ts';
import { startDemo } from '../demo/start.ts';
import { startBare } from './bare.ts';
import { watch } from './browser-watch.ts';
import { type Action, helperActions, type Shows } from './helper-actions.ts';
import { ownerActions } from './owner-actions.ts';
import { spreadOf } from './timing.ts';

const runs = 20;
const goalMs = 100;
/** What may still move is waited for. */
const restMs = 300;
const pollMs = 20;
const mostMs = 60_000;

type Measured = { took: number; moved: number };

async function deviceFor(browser: Browser, like: BrowserContextOptions): Promise<Page> {
  const context = await browser.newContext(like);
  context.setDefaultTimeout(60_000);
  await context.addInitScript(watch);
  return context.newPage();
}

async function signIn(page: Page, base: string, role: 'owner' | 'helper') {
  const person = demoPeople.find((one) => one.role === role);
  await page.goto(`${base}/sign-in`);
  await page.fill('input[name=signInName]', person?.signInName ?? '');
  await page.fill('input[name=password]', person?.password ?? '');
  await page.click('main button[type=submit]');
  await page.waitForURL((url) => url.pathname !== '/sign-in');
}

/** From the press to the paint of what it changed, and how far anything moved by then and shortly after. */
async function timed(page: Page, shows: Shows, press: () => Promise<unknown>): Promise<Measured> {
  await page.waitForTimeout(restMs);
  await page.evaluate(`benchAwait('${shows}')`);
  await press();
  const until = Date.now() + mostMs;
  while (Date.now() < until) {
    await page.waitForTimeout(pollMs);
    // A page that is just being left answers nothing, or not at all.
    const asked = page.evaluate('window.benchTook').catch(() => undefined);
    const took = await Promise.race([asked, page.waitForTimeout(1_000)]);
    if (typeof took !== 'number') continue;
    await page.waitForTimeout(restMs);
    return { took, moved: (await page.evaluate('window.benchMoved')) as number };
  }
  throw new Error(`nothing was shown after ${mostMs} ms`);
}

/** Twenty runs, each beside one of the least that the same browser can be asked for. */
async function measure(page: Page, base: string, { name, shows, ready, press }: Action, plain: Page) {
  const ours: Measured[] = [];
  const least: number[] = [];
  for (let run = 0; run < runs; run += 1) {
    await page.bringToFront();
    await ready(page, base, run);
    ours.push(await timed(page, shows, () => press(page)));
    await plain.bringToFront();
    const bare = await timed(plain, shows, () => plain.click(shows === 'part' ? 'button' : 'a'));
    least.push(bare.took);
  }
  const took = spreadOf(ours.map((one) => one.took));
  const reference = spreadOf(least);
  const moved = Math.max(...ours.map((one) => one.moved));
  console.log(
    `  ${name}: p50 ${took.median.toFixed(0)} ms, p95 ${took.p95.toFixed(0)} ms; the least ${reference.median.toFixed(0)} and ${reference.p95.toFixed(0)} ms; ratio ${(took.median / reference.median).toFixed(1)}; moved ${moved.toFixed(4)}${took.median > goalMs ? `  over ${goalMs} ms` : ''}`,
  );
}

/** How soon what people do all day is answered in a browser: the demo in Chromium, a helper's phone, the owner's desk. */
export async function sayActions() {
  const folder = mkdtempSync(join(tmpdir(), 'broodbench-actions-'));
  const bare = await startBare();
  const demo = await startDemo(folder);
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-sync'],
  });
  try {
    const phone = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };
    const desk = { viewport: { width: 1280, height: 800 } };
    for (const [who, like, actions] of [
      ['helper', phone, helperActions],
      ['owner', desk, ownerActions],
    ] as const) {
      const plain = await deviceFor(browser, like);
      await plain.goto(`${bare.base}/a`);
      const page = await deviceFor(browser, like);
      await signIn(page, demo.base, who);
      console.log(`${who}, ${runs} times each, from the press to the paint of what it changed:`);
      for (const action of actions) await measure(page, demo.base, action, plain);
    }
  } finally {
    await browser.close();
    await demo.stop();
    await bare.stop();
    rmSync(folder, { recursive: true, force: true });
  }
}
