import { afterAll, expect, it } from 'vitest';
import { closeDevices, deviceAt, listening } from '../support/browser.ts';
import { furnishedBench, gets } from '../support/walk.ts';

afterAll(closeDevices);

const mostBytes = 100_000;

/** What a script of a page notes of whatever moves by itself (the Layout Instability API). */
const watch = `
  window.moved = 0;
  new PerformanceObserver((list) => {
    for (const { value, hadRecentInput } of list.getEntries()) if (!hadRecentInput) window.moved += value;
  }).observe({ type: 'layout-shift', buffered: true });`;

const main =
  /^\/(round|cultures|surplus|orders|feeders|climate|species|customers|records|people|settings|search|lines|parcels\/packing)$|^\/(cultures\/:code|cultures\/:code\/tally|orders\/:number|round\/map|surplus\/count-next|offers|labels|places|waiting)$/;

/** The pages of daily work; JOBS=all opens every page there is. */
const isAsked = (path: string) =>
  process.env.JOBS === 'all'
    ? !/\.(pdf|csv|jpg|tar|ics|zip|json)$|\/live$|^\/static|photos|^\/sw|export/.test(path)
    : main.test(path);

it('a page opened for the first time fetches less than 100 kB and moves nothing', {
  timeout: 600_000,
}, async () => {
  const t = await furnishedBench();
  const base = `http://127.0.0.1:${await listening(t)}`;
  const { page, context } = await deviceAt(t, base, 'owner', { like: { serviceWorkers: 'block' } });
  await page.addInitScript(watch);
  const network = await context.newCDPSession(page);
  await network.send('Network.enable');
  await network.send('Network.setCacheDisabled', { cacheDisabled: true });
  let bytes = 0;
  network.on('Network.loadingFinished', ({ encodedDataLength }) => {
    bytes += encodedDataLength;
  });
  const faults: string[] = [];
  let most = 0;
  const pages = gets(t).filter(({ path }) => isAsked(path));
  for (const address of pages) {
    bytes = 0;
    await page.goto(base + t.at(address), { waitUntil: 'load' });
    await page.waitForTimeout(40);
    const moved = (await page.evaluate('window.moved ?? 0')) as number;
    if (bytes > mostBytes) faults.push(`${address.path}: ${bytes} bytes`);
    if (moved > 0.0005) faults.push(`${address.path}: moved by ${moved.toFixed(4)}`);
    most = Math.max(most, bytes);
  }
  if (process.env.JOBS) console.info(`${pages.length} pages, the largest first visit ${most} bytes`);
  expect(pages.length).toBeGreaterThan(18);
  expect(most).toBeGreaterThan(30_000);
  expect(faults).toEqual([]);
});
