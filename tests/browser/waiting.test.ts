import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import { appendEntry, withdrawEntry } from '../../server/cultures/queries-diary.ts';
import { cultureEstimates, cultures, standingDiary } from '../../server/schema/tables.ts';
import { type Bench, benchOnLine, closeDevices, type Device, pageStore } from '../support/browser.ts';
import { makeCulture, makePlace, makeSpecies } from '../support/stock.ts';
import { cast } from '../support/test-app.ts';

const codes = ['A-1', 'A-2', 'A-3', 'A-4', 'Ä 5'];
const phoneDay = () => new Intl.DateTimeFormat('en-CA', { timeZone: 'Europe/Berlin' }).format(Date.now());

/** Whether the worker has fetched all that the round needs without a signal. A string: it runs in the page. */
const isReady = `${pageStore}.then(async ({ fact }) =>
  Boolean(await fact('prepared')) && navigator.serviceWorker.controller !== null)`;
const kept = `${pageStore}.then(({ allEntries }) => allEntries())`;
/** Asks again and again, since a page, its worker and the service each take their time. */
const soon = <T>(ask: () => T | Promise<T>) => expect.poll(ask, { timeout: 10_000 });

const sendNow = () => window.dispatchEvent(new Event('online'));

const emptied = `${pageStore}.then(async (store) => {
  for (const { id } of await store.allEntries()) await store.dropEntry(id);
  await store.setFact('justKept', 0);
})`;

type Kept = { id: number; state: string; codes: string[]; formKey: string; fields: [string, string][] };

async function openRound(t: Bench, { page }: Device) {
  await page.goto(`${t.address}/round`);
  await vi.waitUntil(() => page.evaluate(isReady), { timeout: 15_000 });
}

const keptIn = (page: Page) => page.evaluate(kept) as Promise<Kept[]>;
const states = async (page: Page) => (await keptIn(page)).map(({ state }) => state);
const count = (page: Page) => page.locator('#kept-count');
const row = (page: Page, code: string) => page.locator(`#round [data-code="${code}"]`);
const tapWell = (page: Page, code: string) =>
  row(page, code)
    .getByRole('button', { name: `${code}: all well`, exact: true })
    .click();

async function writeNote(t: Bench, page: Page, code: string, note: string) {
  await page.goto(`${t.address}/cultures/${encodeURIComponent(code)}/check?from=round`);
  await page.getByRole('textbox', { name: 'Note' }).fill(note);
  await page.getByRole('button', { name: 'Write it down' }).click();
}

/** What stands in the diaries, in the order in which it was written. */
function written(t: Bench) {
  const byId = new Map(
    t.db
      .select()
      .from(cultures)
      .all()
      .map(({ id, code }) => [id, code]),
  );
  const rows = t.db.select().from(standingDiary).all();
  return rows
    .sort((a, b) => a.id - b.id)
    .map(({ cultureId, kind, note, onDay, madeBy }) => ({
      code: byId.get(cultureId),
      kind,
      note,
      onDay,
      madeBy,
    }));
}

afterAll(closeDevices);

describe('the round without a signal', () => {
  let t: Bench;
  let helper: Device;
  /** One bench and one phone; each test leaves the diaries empty and the line whole. */
  beforeAll(async () => {
    t = await benchOnLine();
    const speciesId = makeSpecies(t.db).id;
    const placeId = makePlace(t.db).id;
    for (const code of codes) makeCulture(t.db, { code, speciesId, placeId });
    helper = await t.device('helper');
    await openRound(t, helper);
  });
  const cultureId = (code: string) => {
    const found = t.db
      .select()
      .from(cultures)
      .all()
      .find((one) => one.code === code);
    if (!found) throw new Error(code);
    return found.id;
  };
  /** A copy of the round loads itself anew then; nothing else is opened before that is over. */
  const signalBack = async (page: Page) => {
    t.line.mend();
    await page.evaluate(sendNow);
    await soon(() => page.locator('html').getAttribute('data-kept')).toBeNull();
  };
  afterEach(async () => {
    t.line.mend();
    t.pausing.pause = null;
    for (const { id } of t.db.select().from(standingDiary).all())
      withdrawEntry(t.db, id, { madeBy: null, madeAt: Date.now() });
    t.db.delete(cultureEstimates).run();
    // The old page may be just about to load itself anew.
    await helper.page.close();
    helper = { ...helper, page: await helper.context.newPage() };
    await helper.page.goto(`${t.address}/waiting`);
    await helper.page.evaluate(emptied);
    await helper.page.goto(`${t.address}/round`);
  });

  it('goes on from its copies while a proxy answers for a service that is being started anew', async () => {
    const { page } = helper;
    t.line.answerInstead();
    await page.reload();
    await soon(() => page.locator('#kept-page').textContent()).toContain('This page is from');
    await tapWell(page, 'A-3');
    await soon(() => count(page).textContent()).toBe('1 waiting');
    await writeNote(t, page, 'A-1', 'lid is loose');
    await page.waitForURL(/\/round$/);
    expect(await states(page)).toEqual(['waiting', 'waiting']);
    await signalBack(page);
    await soon(() => states(page)).toEqual([]);
    expect(written(t).map(({ code, note }) => [code, note])).toEqual([
      ['A-3', ''],
      ['A-1', 'lid is loose'],
    ]);
  });

  it('keeps what the service does not take while it is paused, and sends it when that is over', async () => {
    const { page } = helper;
    t.pausing.pause = { since: Date.now(), words: '' };
    await tapWell(page, 'A-2');
    await soon(() => count(page).textContent()).toBe('1 waiting');
    await soon(() => page.locator('#notice').textContent()).toContain('sent when the service takes entries');
    await writeNote(t, page, 'A-1', 'lid is loose');
    await soon(() => count(page).textContent()).toBe('2 waiting');
    await page.goto(`${t.address}/round`);
    expect(await page.locator('main').textContent()).toContain('Nothing can be saved for a while');
    for (let tries = 0; tries < 7; tries += 1) await page.evaluate(sendNow);
    await soon(() => states(page)).toEqual(['waiting', 'waiting']);
    expect(written(t)).toEqual([]);
    t.pausing.pause = null;
    await page.evaluate(sendNow);
    await soon(() => states(page)).toEqual([]);
    expect(written(t).map(({ code, note }) => [code, note])).toEqual([
      ['A-2', ''],
      ['A-1', 'lid is loose'],
    ]);
  });

  it('opens, keeps what is done with its day, says how much waits, and sends it once and in order', async () => {
    const { page } = helper;
    t.line.cut();
    await page.reload();
    await soon(() => page.locator('#kept-page').textContent()).toContain('No signal');
    await tapWell(page, 'A-3');
    await soon(() => count(page).textContent()).toBe('1 waiting');
    await soon(() => row(page, 'A-3').textContent()).toContain('All well: waiting to be sent');
    await writeNote(t, page, 'Ä 5', 'lid is cracked');
    await page.waitForURL(/\/round$/);
    await soon(() => page.locator('#notice').textContent()).toContain('Ä 5: check. Kept on this device');
    await page.goto(`${t.address}/cultures/A-1/count?from=round`);
    await page.getByLabel('Counted').fill('7');
    await page.getByRole('button', { name: 'Write it down' }).click();
    await soon(() => count(page).textContent()).toBe('3 waiting');
    await page.goto(`${t.address}/cultures/A-2`);
    expect(await page.locator('h1').textContent()).toContain('A-2');
    // A label that is scanned leads to the check, here as with a signal.
    await page.goto(`${t.address}/c/A-4`);
    expect(await page.locator('h1').textContent()).toBe('Check A-4');
    expect(await page.getByLabel('Day').inputValue()).toBe(phoneDay());
    await soon(() => count(page).textContent()).toBe('3 waiting');
    expect(written(t)).toEqual([]);

    await page.goto(`${t.address}/round`);
    await signalBack(page);
    await soon(() => states(page)).toEqual([]);
    const by = { onDay: phoneDay(), madeBy: cast.helper.id };
    expect(written(t)).toEqual([
      { code: 'A-3', kind: 'check', note: '', ...by },
      { code: 'Ä 5', kind: 'check', note: 'lid is cracked', ...by },
      { code: 'A-1', kind: 'count', note: '', ...by },
    ]);
    await soon(() => count(page).textContent()).toBe('');
  });

  it('writes once what had arrived when the answer was lost, by a tap and when sent later', async () => {
    const { page } = helper;
    t.line.loseAnswerTo(/^POST \/cultures\/A-1\/all-well/);
    await tapWell(page, 'A-1');
    await soon(() => states(page)).toEqual(['waiting']);
    expect(written(t)).toHaveLength(1);
    t.line.mend();
    t.line.loseAnswerTo(/^POST \/cultures\/A-1\/all-well/);
    await page.evaluate(sendNow);
    const arrived = () =>
      t.line.passed.filter((line) => line.startsWith('POST /cultures/A-1/all-well')).length;
    await soon(arrived).toBeGreaterThanOrEqual(2);
    await tapWell(page, 'A-2');
    await soon(() => states(page)).toEqual(['waiting', 'waiting']);
    await signalBack(page);
    await soon(() => states(page)).toEqual([]);
    expect(written(t).map(({ code }) => code)).toEqual(['A-1', 'A-2']);
  });

  it('sends again what had gone only half way', async () => {
    const { page } = helper;
    await page.goto(`${t.address}/cultures/A-2/check?from=round`);
    t.line.breakInside(/^POST \/cultures\/A-2\/check/);
    await page.getByRole('textbox', { name: 'Note' }).fill('half way');
    await page.getByRole('button', { name: 'Write it down' }).click();
    await soon(() => states(page)).toEqual(['waiting']);
    expect(written(t)).toEqual([]);
    await signalBack(page);
    await soon(() => states(page)).toEqual([]);
    expect(written(t).map(({ note }) => note)).toEqual(['half way']);
  });

  it('in two windows at once is sent once, and a new form waits its turn behind what waits', async () => {
    const { page, context } = helper;
    const other = await context.newPage();
    await other.goto(`${t.address}/round`);
    t.line.cut();
    for (const code of ['A-4', 'A-1', 'A-3']) await tapWell(page, code);
    await soon(() => states(page)).toEqual(['waiting', 'waiting', 'waiting']);
    t.line.mend();
    const both = [page, other].map((one) => one.evaluate(sendNow));
    await tapWell(other, 'A-2');
    await Promise.all(both);
    await soon(() => states(page)).toEqual([]);
    await soon(() => written(t).map(({ code }) => code)).toEqual(['A-4', 'A-1', 'A-3', 'A-2']);
    await other.close();
  });

  it('shows both where somebody else wrote at the same culture meanwhile', async () => {
    const { page } = helper;
    t.line.cut();
    await writeNote(t, page, 'A-1', 'watered well');
    await soon(() => states(page)).toEqual(['waiting']);
    const by = { via: 'page', madeBy: cast.owner.id, madeAt: Date.now() } as const;
    appendEntry(t.db, { cultureId: cultureId('A-1'), onDay: phoneDay(), kind: 'water', waterMl: 40, ...by });
    await signalBack(page);
    await soon(() => states(page)).toEqual(['both']);
    await page.goto(`${t.address}/waiting`);
    const entry = page.locator('.kept-entry');
    await soon(() => entry.textContent()).toContain('watered well');
    expect(await entry.textContent()).toMatch(/Olive Owner.*A-1: Water: 40 ml/);
    expect(written(t)).toHaveLength(2);
    await page.getByRole('button', { name: 'Seen' }).click();
    await soon(() => states(page)).toEqual([]);
  });

  it('keeps what the server refuses beside its answer, to be mended, thrown away and taken back', async () => {
    const { page } = helper;
    t.line.cut();
    await page.goto(`${t.address}/cultures/A-2/check?from=round`);
    await page.getByLabel('Dead animals').fill('many');
    await page.getByRole('textbox', { name: 'Note' }).fill('found below the bark');
    await page.getByRole('button', { name: 'Write it down' }).click();
    await soon(() => states(page)).toEqual(['waiting']);
    await tapWell(page, 'A-3');
    await signalBack(page);
    await soon(() => states(page)).toEqual(['refused']);
    expect(written(t).map(({ code }) => code)).toEqual(['A-3']);
    await page.goto(`${t.address}/waiting`);
    await soon(() => page.locator('.kept-answer').textContent()).toContain('Dead animals: A whole number.');
    await page.getByText('Throw away').click();
    await page.getByRole('button', { name: 'Throw it away' }).click();
    await page.getByRole('button', { name: 'Take it back' }).click();
    await page.getByRole('link', { name: 'Open the form again' }).click();
    const note = page.getByRole('textbox', { name: 'Note' });
    await soon(() => note.inputValue()).toBe('found below the bark');
    await page.getByLabel('Dead animals').fill('3');
    await page.getByRole('button', { name: 'Write it down' }).click();
    await page.waitForURL(/\/round$/);
    await soon(() => states(page)).toEqual([]);
    expect(written(t).map(({ note }) => note)).toEqual(['', 'found below the bark']);
  });

  it('keeps what several cultures were ticked for, with what was done there, whatever others did meanwhile', async () => {
    const { page } = helper;
    const onDay = phoneDay();
    const by = { via: 'page', madeBy: cast.owner.id, madeAt: Date.now() - 1 } as const;
    const fed = { kind: 'feed', food: 'flakes', ...by } as const;
    const before = new Date(Date.now() - 20 * 86_400_000).toISOString().slice(0, 10);
    appendEntry(t.db, { cultureId: cultureId('A-1'), onDay: before, ...fed });
    await page.reload();
    t.line.cut();
    for (const code of ['A-1', 'A-2']) await page.getByLabel(`Tick ${code}`).check();
    await page.getByRole('button', { name: 'All well, did what was due' }).click();
    await soon(() => count(page).textContent()).toBe('1 waiting');
    await soon(() => page.locator('.round-row-kept').count()).toBe(2);
    await soon(() => page.locator('#round-progress').textContent()).toContain('1 waiting to be sent');
    appendEntry(t.db, { cultureId: cultureId('A-1'), onDay, ...fed, madeAt: Date.now() });
    await signalBack(page);
    await soon(() => states(page)).toEqual(['both']);
    const own = written(t).filter(({ madeBy }) => madeBy === cast.helper.id);
    expect(own.map(({ code, kind }) => `${code} ${kind}`)).toEqual(['A-1 check', 'A-1 feed', 'A-2 check']);
  });

  it('keeps a form that was filled in while the session ended, and says so where it cannot keep it', async () => {
    const phone = await t.device('helper');
    const { page, context } = phone;
    await openRound(t, phone);
    await page.goto(`${t.address}/cultures/A-2/check?from=round`);
    await page.getByRole('textbox', { name: 'Note' }).fill('typed for long');
    await context.clearCookies();
    await page.getByRole('button', { name: 'Write it down' }).click();
    await page.waitForURL(/\/sign-in/);
    await soon(() => count(page).textContent()).toContain('1 waiting');
    await phone.signIn('helper');
    await openRound(t, phone);
    await soon(() => written(t).map(({ note }) => note)).toEqual(['typed for long']);

    const [worker] = context.serviceWorkers();
    await worker?.evaluate(`IDBObjectStore.prototype.add = () => {
      throw new DOMException('full', 'QuotaExceededError');
    }`);
    t.line.cut();
    await tapWell(page, 'A-1');
    await soon(() => page.locator('#notice').textContent()).toContain('could not keep what you wrote');
    await writeNote(t, page, 'A-3', 'not to be lost');
    await soon(() => page.locator('h1').textContent()).toBe('Not sent and not kept');
    expect(await page.locator('main').textContent()).toContain('note: not to be lost');
    t.line.mend();
    await page.getByRole('button', { name: 'Send it again' }).click();
    await page.waitForURL(/\/round$/);
    expect(written(t).map(({ note }) => note)).toEqual(['typed for long', 'not to be lost']);
  });

  it('is never sent in another name, and its pages go with whoever signs out', async () => {
    const phone = await t.device('helper');
    const { page } = phone;
    await openRound(t, phone);
    t.line.cut();
    await tapWell(page, 'A-1');
    await soon(() => states(page)).toEqual(['waiting']);
    await page.locator('summary', { hasText: 'Menu' }).click();
    await page.getByRole('button', { name: 'Sign out' }).click();
    await soon(() => page.locator('h1').textContent()).toBe('Signed out on this device only');
    await page.goto(`${t.address}/round`);
    expect(await page.locator('main').textContent()).toContain('1 waiting of Hal Helper');
    expect(await page.locator('main').textContent()).not.toContain('A-1');
    t.line.mend();
    await phone.signIn('owner');
    await page.goto(`${t.address}/waiting`);
    await soon(() => count(page).textContent()).toBe('1 waiting of Hal Helper');
    await page.evaluate(sendNow);
    await soon(() => page.locator('.kept-others').textContent()).toContain('when Hal Helper signs in');
    expect(written(t)).toEqual([]);
    await phone.context.clearCookies();
    await page.goto(`${t.address}/sign-in`);
    await soon(() => count(page).textContent()).toContain('1 waiting');
    await phone.signIn('helper');
    await page.goto(`${t.address}/round`);
    await soon(() => states(page)).toEqual([]);
    expect(written(t).map(({ madeBy }) => madeBy)).toEqual([cast.helper.id]);
  });

  it('is plain HTML without JavaScript', async () => {
    const { page } = await t.device('helper', { javaScript: false });
    await page.goto(`${t.address}/round`);
    await tapWell(page, 'A-1');
    await page.waitForURL(/\/round$/);
    expect(await page.locator('#notice').textContent()).toContain('A-1: all well.');
    await writeNote(t, page, 'A-2', 'by hand');
    await page.waitForURL(/\/round$/);
    await page.goto(`${t.address}/waiting`);
    expect(await page.locator('main').textContent()).toContain('Nothing can be kept without JavaScript.');
    expect(written(t).map(({ code, note }) => [code, note])).toEqual([
      ['A-1', ''],
      ['A-2', 'by hand'],
    ]);
  });
});
