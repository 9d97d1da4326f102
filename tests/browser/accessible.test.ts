import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults } from 'axe-core';
import type { Page } from 'playwright-core';
import { afterAll, expect, it } from 'vitest';
import { closeDevices, deviceAt, listening } from '../support/browser.ts';
import { furnishedBench, gets } from '../support/walk.ts';

afterAll(closeDevices);

// axe-core (Deque): the rules of WCAG 2.2, levels A and AA, as far as a program can check them.
const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const rules = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
const everything = `axe.run(document, { runOnly: ${JSON.stringify(rules)}, resultTypes: ['violations'] })`;
const contrast = `axe.run(document, { runOnly: ['color-contrast'], resultTypes: ['violations'] })`;

const sayFaults = ({ violations }: AxeResults) =>
  violations.flatMap(({ id, nodes }) => nodes.slice(0, 3).map(({ html }) => `${id}: ${html.slice(0, 160)}`));

/** What of a page sticks out to the right of a window of 320 pixels (WCAG 2.2, 1.4.10). A string: it runs in the page. */
const sticksOut = `document.documentElement.scrollWidth - document.documentElement.clientWidth`;

async function faultsOf(page: Page, address: string): Promise<string[]> {
  const faults: string[] = [];
  await page.emulateMedia({ colorScheme: 'light', reducedMotion: 'reduce' });
  const answer = await page.goto(address);
  // Papers and files are no pages, and parts of pages are looked at in their pages.
  if (!(await answer?.text())?.startsWith('<!doctype html>')) return [];
  await page.evaluate(axeSource);
  faults.push(...sayFaults((await page.evaluate(everything)) as AxeResults));
  await page.emulateMedia({ colorScheme: 'dark', reducedMotion: 'reduce' });
  faults.push(...sayFaults((await page.evaluate(contrast)) as AxeResults).map((fault) => `dark ${fault}`));
  await page.setViewportSize({ width: 320, height: 640 });
  const over = (await page.evaluate(sticksOut)) as number;
  if (over > 0) faults.push(`${over} pixels stick out at 320`);
  await page.setViewportSize({ width: 1280, height: 800 });
  return faults;
}

it('every page can be read and worked by everybody, as far as a program can tell', {
  timeout: 180_000,
}, async () => {
  const t = await furnishedBench();
  const base = `http://127.0.0.1:${await listening(t)}`;
  const { context } = await deviceAt(t, base, 'owner', { viewport: { width: 1280, height: 800 } });
  // A stream of news never ends, and a file is saved in place of shown.
  const isPage = ({ path }: { path: string }) => !/\.\w+$|\*|\/export\/|\/live$|photos\/:id$/.test(path);
  const waiting = gets(t).filter(isPage);
  const faults: string[] = [];
  const walker = async () => {
    const page = await context.newPage();
    for (let address = waiting.pop(); address; address = waiting.pop()) {
      const found = await faultsOf(page, base + t.at(address));
      faults.push(...found.map((fault) => `${address.path}: ${fault}`));
    }
  };
  await Promise.all([walker(), walker(), walker()]);
  expect(faults).toEqual([]);
});
