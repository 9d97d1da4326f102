import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { appendEntry } from '../../server/cultures/queries-diary.ts';
import { cultures, speciesStages, standingDiary } from '../../server/schema/tables.ts';
import { addDays } from '../../shared/days.ts';
import { dayInZone } from '../../shared/zone-day.ts';
import { type Bench, benchOnLine, closeDevices, type Device, pageStore } from '../support/browser.ts';
import { makeCulture, makeEnclosure, makeEstimate, makePlace, makeSpecies } from '../support/stock.ts';

/** The service lives under a path of its host here, so that all that browsers do by themselves is seen to stay below it. */
const base = '/bench';

/** The addresses of the copies that the worker keeps. A string: it runs in the page. */
const copies = `caches.open('kept-pages ${base}').then((cache) => cache.keys())
  .then((all) => all.map(({ url }) => url.slice(location.origin.length + ${base.length})))`;
const waits = `${pageStore}.then(({ allEntries }) => allEntries())
  .then((all) => all.filter(({ state }) => state === 'waiting').length)`;
const soon = <T>(ask: () => T | Promise<T>) => expect.poll(ask, { timeout: 10_000 });

const lastForm = '/waiting/forms/count?method=mark-recapture';
const banner = (page: Page) => page.locator('#kept-page').textContent();
const well = (page: Page, code: string) =>
  page.getByRole('button', { name: `${code}: all well`, exact: true }).click();

/** Two shelves of fifty, all due; at one culture eggs were seen, so that young are looked for. */
function furnish({ db }: Bench) {
  const today = dayInZone(Date.now(), 'Europe/Berlin');
  const speciesId = makeSpecies(db, { sellable: false }).id;
  const enclosureId = makeEnclosure(db).id;
  const stage = { stage: 'hatch', coolC: 18, coolDays: 19, warmC: 25, warmDays: 8.5 } as const;
  db.insert(speciesStages)
    .values({ ...stage, speciesId, source: 'own notes' })
    .run();
  for (const shelf of ['A', 'B']) {
    const placeId = makePlace(db, { name: `Shelf ${shelf}`, shelfOrder: shelf }).id;
    for (let i = 1; i <= 50; i += 1) {
      const code = `${shelf}-${String(i).padStart(2, '0')}`;
      const { id } = makeCulture(db, { code, speciesId, enclosureId, placeId });
      const due = { asOf: today, lastCheckOn: null, lastCountOn: null };
      makeEstimate(db, id, due);
      const by = { via: 'page', madeBy: null, madeAt: Date.now() } as const;
      const onDay = addDays(today, -12);
      if (code === 'B-05') appendEntry(db, { cultureId: id, onDay, kind: 'check', eggsSeen: true, ...by });
    }
  }
}

function written({ db }: Bench) {
  const codes = new Map(
    db
      .select()
      .from(cultures)
      .all()
      .map(({ id, code }) => [id, code]),
  );
  const rows = db
    .select()
    .from(standingDiary)
    .all()
    .filter(({ madeBy }) => madeBy !== null);
  return rows
    .sort((a, b) => a.id - b.id)
    .map(({ cultureId, note }) => `${codes.get(cultureId)} ${note}`.trim());
}

afterAll(closeDevices);

describe('a round of several parts', () => {
  let t: Bench;
  let phone: Device;
  beforeAll(async () => {
    t = await benchOnLine(base);
    furnish(t);
    phone = await t.device('helper');
    await phone.page.goto(`${t.address}/round`);
    const isKept = async () => ((await phone.page.evaluate(copies)) as string[]).includes(lastForm);
    await vi.waitUntil(isKept, { timeout: 15_000 });
  });

  it('changes only the round with a signal, and follows what others do in any part', async () => {
    const { page } = phone;
    expect(await page.evaluate(copies)).toEqual(
      expect.arrayContaining(['/round', '/round?part=1', '/round?part=2']),
    );
    await page.evaluate(`window.sameWindow = true`);
    await page.getByRole('link', { name: 'Next part' }).first().click();
    await soon(() => page.url()).toContain('/round?part=2');
    await soon(() => page.locator('#round [data-code="B-01"]').count()).toBe(1);
    expect(await page.locator('#round [data-code="A-01"]').count()).toBe(0);
    expect(await page.evaluate('window.sameWindow')).toBe(true);
    await t.owner.post('/cultures/B-50/all-well');
    await t.owner.post('/cultures/A-50/all-well');
    await soon(() => page.locator('#round [data-code="B-50"]').textContent()).toContain('Looked at today');
    await page.locator('.round-places > summary').click();
    await soon(() => page.locator('.round-places').textContent()).toContain('Shelf A, 49 left of 50');
    await soon(() => page.locator('#round-progress').textContent()).toContain('2 of 100');
    await well(page, 'B-49');
    await soon(() => page.locator('#round-progress').textContent()).toContain('3 of 100');
    expect(page.url()).toContain('/round?part=2');
  });

  it('can be walked without one: what is written in each part is kept and sent in order', async () => {
    const { page } = phone;
    await page.goto(`${t.address}/round?part=1`);
    t.line.cut();
    // The page was fetched with a signal: what htmx cannot fetch is shown as the copy that it is.
    await page.getByRole('link', { name: 'Next part' }).first().click();
    await soon(() => banner(page)).toContain('No signal');
    expect(page.url()).toContain('/round?part=2');
    await well(page, 'B-01');
    await soon(() => page.evaluate(waits)).toBe(1);
    for (const code of ['B-02', 'B-03']) await page.getByLabel(`Tick ${code}`).check();
    await page.locator('#round-many').getByRole('button', { name: 'All well', exact: true }).click();
    await soon(() => page.evaluate(waits)).toBe(2);
    await soon(() => page.url()).toContain('/round?part=2');
    await page.getByRole('link', { name: 'B-05: note something' }).click();
    // What was foretold is asked here as on the page with a signal.
    await page.getByText('no young yet').click();
    await page.getByRole('textbox', { name: 'Note' }).fill('eggs still there');
    await page.getByRole('button', { name: 'Write it down' }).click();
    await page.waitForURL(/\/round\?part=2$/);
    await page.getByRole('link', { name: 'Earlier part' }).first().click();
    await page.waitForURL(/\/round\?part=1$/);
    await soon(() => banner(page)).toContain('No signal');
    await well(page, 'A-01');
    await soon(() => page.evaluate(waits)).toBe(4);
    await soon(() => page.locator('.round-row-kept').count()).toBe(1);
    const before = written(t).length;
    t.line.mend();
    await page.evaluate(`window.dispatchEvent(new Event('online'))`);
    await soon(() => page.evaluate(waits)).toBe(0);
    expect(written(t).slice(before)).toEqual(['B-01', 'B-02', 'B-03', 'B-05 eggs still there', 'A-01']);
    expect(t.db.select().from(standingDiary).all().at(-2)?.lookedFor).toBe('no-young');
  });

  it('works by links and forms where JavaScript is off', async () => {
    const { page } = await t.device('helper', { javaScript: false });
    await page.goto(`${t.address}/round?part=2`);
    await well(page, 'B-10');
    await page.waitForURL(/\/round\?part=2$/);
    await page.getByRole('button', { name: 'Undo', exact: true }).first().click();
    await page.waitForURL(/\/round\?part=2$/);
    expect(await page.locator('#notice').textContent()).toContain('B-10: taken out');
    await page.getByRole('link', { name: /^Back to Shelf A/ }).click();
    expect(page.url()).toMatch(/\/round\?part=1#place-\d+$/);
    expect(await page.locator('#round [data-code]').count()).toBe(50);
  });

  it('asked for nothing beside the path it lives under, and left nothing there', async () => {
    const beside = t.line.passed.filter((line) => !line.includes(` ${base}/`));
    expect([beside, t.line.passed.length > 100]).toEqual([[], true]);
    const stores = `Promise.all([caches.keys(), indexedDB.databases()])
      .then(([kept, all]) => [...kept, ...all.map(({ name }) => name)])`;
    const names = (await phone.page.evaluate(stores)) as string[];
    expect(names.sort()).toEqual([`kept-assets ${base}`, `kept-pages ${base}`, `waiting ${base}`]);
    const [{ scope }] = (await phone.page.evaluate(
      `navigator.serviceWorker.getRegistrations().then((all) => all.map(({ scope }) => ({ scope })))`,
    )) as [{ scope: string }];
    expect(scope).toBe(`${t.address}/`);
  });
});
