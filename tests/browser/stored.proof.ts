import type { Page } from 'playwright-core';
import { afterAll, describe, expect, it } from 'vitest';
import { closeDevices, deviceAt, listening } from '../support/browser.ts';
import { addresses, markup, nth, templates } from '../support/payloads.ts';
import { fill, isShown, openColumns, unguarded } from '../support/stored-text.ts';
import { furnishedBench, gets } from '../support/walk.ts';

// `npm run prove -- scripts`: OWASP ASVS 5.0, 1.2.1 to 1.2.3 and 3.4.3, in a browser. What a page is built like whatever is
// stored is asked in tests/http/stored.test.ts.

afterAll(closeDevices);

const all = [...markup, ...templates, ...addresses].map((text) =>
  text.replaceAll('\u0000', '').replaceAll('\n', ' '),
);
/** So many stand one after the other in each field, so that every field holds each in a third of the rounds. */
const together = 3;

/** Whatever a page does that no page of ours does. */
function watch(page: Page, own: string) {
  const seen: string[] = [];
  page.on('dialog', (dialog) => {
    seen.push(`dialog: ${dialog.message()}`);
    void dialog.dismiss();
  });
  page.on('console', (message) => {
    if (/content security policy|refused to/i.test(message.text())) seen.push(message.text().slice(0, 200));
  });
  page.on('pageerror', (error) => seen.push(`error: ${error.message}`));
  page.on('request', (request) => {
    const url = request.url();
    if (!url.startsWith(own) && !url.startsWith('data:image/')) seen.push(`asks ${url.slice(0, 100)}`);
  });
  return () => seen.splice(0);
}

/** Elements that no page of ours has. A page that follows work under way may go on to its next meanwhile. */
async function marksOn(page: Page): Promise<number> {
  for (let tries = 0; ; tries += 1)
    try {
      return await page.evaluate(() => document.querySelectorAll('xss-mark, iframe, base, object').length);
    } catch (error) {
      if (tries > 3) throw error;
      await page.waitForLoadState('load');
    }
}

describe('text that is stored, in a browser', () => {
  it(
    'runs nothing on any page, whatever it holds',
    async () => {
      const t = await furnishedBench();
      t.clock.now = () => Date.now();
      const own = `http://127.0.0.1:${await listening(t)}`;
      const device = await deviceAt(t, own, 'owner', { viewport: { width: 1_280, height: 800 } });
      await device.context.route(/\.woff2/, (route) => route.abort());
      const { page } = device;
      const seen = watch(page, own);

      // That it would be heard: without the header a dialog opens, with it a report is made.
      for (const [headers, heard] of [
        [{}, /^dialog: heard/],
        [{ 'content-security-policy': "script-src 'self'" }, /Content Security Policy/],
      ] as const) {
        await page.route('**/heard', (route) =>
          route.fulfill({ headers, contentType: 'text/html', body: '<script>alert("heard")</script>' }),
        );
        await page.goto(`${own}/heard`);
        expect(seen().join()).toMatch(heard);
        await page.unroute('**/heard');
      }

      unguarded(t);
      const columns = openColumns(t);
      // A picture alone is shown by a page of the browser's own, which breaks the policy by its style.
      const pages = gets(t).filter(
        ({ path }) =>
          isShown(path) && !/\.(csv|zip|json|ics|jpg|tar)|\/live$|:file$|\/photos\/:id$/.test(path),
      );
      const wrong: string[] = [];
      let loads = 0;
      const rounds = Number(process.env.SCRIPT_ROUNDS ?? Math.ceil(all.length / together));
      for (let round = 0; round < rounds; round += 1) {
        fill(t, columns, (at) =>
          Array.from({ length: together }, (_, more) => nth(all, (at + round) * together + more)).join(' '),
        );
        for (const address of pages) {
          await page
            .goto(own + t.at(address), { waitUntil: 'load', timeout: 120_000 })
            .catch((error: Error) => {
              if (!/Download is starting|ERR_ABORTED/.test(error.message))
                wrong.push(`${address.path}: ${error.message}`);
            });
          loads += 1;
          const marks = await marksOn(page);
          const found = [...seen(), ...(marks > 0 ? [`${marks} elements`] : [])];
          wrong.push(...found.map((what) => `${address.path}, round ${round}: ${what}`));
        }
        const last = wrong.at(-1) ?? '';
        console.log(`round ${round + 1} of ${rounds}: ${loads} pages, ${wrong.length} faults ${last}`);
      }
      console.table([
        {
          payloads: all.length,
          columns: columns.length,
          pages: pages.length,
          rounds,
          loads,
          faults: wrong.length,
        },
      ]);
      expect([...new Set(wrong)].slice(0, 20)).toEqual([]);
    },
    4 * 3_600_000,
  );
});
