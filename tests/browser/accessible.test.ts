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
/** The frame is the same on every page: its dark colours are looked at once. */
const contrastIn = (part: string) =>
  `axe.run('${part}', { runOnly: ['color-contrast'], resultTypes: ['violations'] })`;

const sayFaults = ({ violations }: AxeResults) =>
  violations.flatMap(({ id, nodes }) => nodes.slice(0, 3).map(({ html }) => `${id}: ${html.slice(0, 160)}`));

/** What of a page sticks out to the right of a window of 320 pixels (WCAG 2.2, 1.4.10). A string: it runs in the page. */
const sticksOut = `document.documentElement.scrollWidth - document.documentElement.clientWidth`;

/** Puts a page in the place of the one before, under the style that is loaded: much quicker than opening each. */
const put = (html: string) => `{
  const next = new DOMParser().parseFromString(${JSON.stringify(html)}, 'text/html');
  document.title = next.title;
  for (const { name } of [...document.documentElement.attributes]) document.documentElement.removeAttribute(name);
  for (const { name, value } of next.documentElement.attributes) document.documentElement.setAttribute(name, value);
  document.body.replaceWith(next.body);
}`;

const desk = { width: 1280, height: 800 };

async function faultsOf(page: Page, html: string, dark: string): Promise<string[]> {
  await page.evaluate(put(html));
  const faults = sayFaults((await page.evaluate(everything)) as AxeResults);
  await page.emulateMedia({ colorScheme: 'dark', reducedMotion: 'reduce' });
  faults.push(...sayFaults((await page.evaluate(dark)) as AxeResults).map((fault) => `dark ${fault}`));
  await page.emulateMedia({ colorScheme: 'light', reducedMotion: 'reduce' });
  await page.setViewportSize({ width: 320, height: 640 });
  const over = (await page.evaluate(sticksOut)) as number;
  if (over > 0) faults.push(`${over} pixels stick out at 320`);
  await page.setViewportSize(desk);
  return faults;
}

it('every page can be read and worked by everybody, as far as a program can tell', {
  timeout: 180_000,
}, async () => {
  const t = await furnishedBench();
  const base = `http://127.0.0.1:${await listening(t)}`;
  const { page } = await deviceAt(t, base, 'owner', { viewport: desk });
  await page.goto(`${base}/settings`);
  await page.evaluate(axeSource);
  // A stream of news never ends.
  const pages = gets(t).filter(({ path }) => !path.endsWith('/live'));
  const faults: string[] = [];
  const titles = new Set<string>();
  for (const address of pages) {
    const { text } = await t.owner.get(t.at(address));
    // Papers and files are no pages, and parts of pages are looked at in their pages.
    if (!text?.startsWith('<!doctype html>')) continue;
    const dark = contrastIn(titles.size === 0 ? 'body' : 'main');
    faults.push(...(await faultsOf(page, text, dark)).map((fault) => `${address.path}: ${fault}`));
    titles.add(await page.title());
  }
  expect(titles.size).toBeGreaterThan(60);
  expect(faults).toEqual([]);
});
