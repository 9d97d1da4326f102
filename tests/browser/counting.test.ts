import { eq } from 'drizzle-orm';
import type { Page } from 'playwright-core';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { countPhotos, standingDiary } from '../../server/schema/tables.ts';
import { type Bench, benchOnLine, closeDevices } from '../support/browser.ts';
import { makeCulture } from '../support/stock.ts';

afterAll(closeDevices);

const counts = (t: Bench, cultureId: number) =>
  t.db
    .select()
    .from(standingDiary)
    .where(eq(standingDiary.cultureId, cultureId))
    .all()
    .filter(({ kind }) => kind === 'count')
    .map(({ countInput }) => JSON.parse(countInput ?? '{}'));

const writeDown = (page: Page) => page.getByRole('button', { name: 'Write it down' }).click();

describe('counting by taps', () => {
  let t: Bench;
  beforeAll(async () => {
    t = await benchOnLine();
  });

  it('counts the taps on a photo, takes the last away, and keeps them through a reload and with the count', async () => {
    const { page } = await t.device('helper');
    const { id, code } = makeCulture(t.db);
    await page.goto(`${t.address}/cultures/${code}/photo`);
    const background = { width: 640, height: 480, channels: 3 as const, background: '#7a6a50' };
    const buffer = await sharp({ create: background }).jpeg().toBuffer();
    await page
      .locator('input[type="file"]')
      .first()
      .setInputFiles({ name: 'wall.jpg', mimeType: 'image/jpeg', buffer });
    await page.locator('main form button').last().click();
    const board = page.locator('[data-photo-board]');
    await board.waitFor();
    const box = await board.boundingBox();
    if (!box) throw new Error('the photo is not shown');
    const tap = (x: number, y: number) => board.tap({ position: { x: box.width * x, y: box.height * y } });
    await tap(0.25, 0.5);
    await tap(0.5, 0.25);
    await tap(0.75, 0.75);
    const number = page.getByLabel('Seen');
    expect(await number.inputValue()).toBe('3');
    await page.getByRole('button', { name: 'Take the last tap away' }).click();
    expect(await number.inputValue()).toBe('2');
    await page.reload();
    expect(await number.inputValue()).toBe('2');
    expect(await board.locator('circle').count()).toBe(2);
    await writeDown(page);
    await page.waitForURL(/\/cultures\/[^/]+$/);
    expect(counts(t, id)).toMatchObject([{ method: 'visible', counted: 2 }]);
    const [photo] = t.db.select().from(countPhotos).where(eq(countPhotos.cultureId, id)).all();
    const taps = JSON.parse(photo?.taps ?? '[]') as [number, number][];
    // In ten-thousandths of the photo; a finger lands on whole pixels.
    const near = (found: number | undefined, wanted: number) =>
      expect(Math.abs((found ?? 0) - wanted)).toBeLessThan(60);
    expect(taps).toHaveLength(2);
    near(taps[0]?.[0], 2500);
    near(taps[0]?.[1], 5000);
    near(taps[1]?.[0], 5000);
    near(taps[1]?.[1], 2500);
  });

  it('adds with big keys, sums up, survives a reload, and forgets once it is written', async () => {
    const { page } = await t.device('helper');
    const { id, code } = makeCulture(t.db);
    const tally = `${t.address}/cultures/${code}/tally?method=full`;
    await page.goto(tally);
    const more = page.getByRole('button', { name: '+1 adult' });
    for (let taps = 0; taps < 3; taps += 1) await more.tap();
    await page.getByRole('button', { name: '+5 juvenile' }).tap();
    await page.getByRole('button', { name: '−1 adult' }).tap();
    expect(await page.locator('[data-tally-sum]').textContent()).toBe('7 in all');
    await page.reload();
    expect(await page.getByLabel('Adults').inputValue()).toBe('2');
    expect(await page.getByLabel('Juveniles').inputValue()).toBe('5');
    await writeDown(page);
    await page.waitForURL(/\/cultures\/[^/]+$/);
    expect(counts(t, id)).toMatchObject([{ method: 'full', counted: 7 }]);
    await page.goto(tally);
    expect(await page.getByLabel('Adults').inputValue()).toBe('');
  });

  it('is typed where there is no JavaScript, and shows no keys that do nothing', async () => {
    const { page } = await t.device('helper', { javaScript: false });
    const { id, code } = makeCulture(t.db);
    await page.goto(`${t.address}/cultures/${code}/tally?method=full`);
    expect(await page.getByRole('button', { name: '+1 adult' }).isVisible()).toBe(false);
    await page.getByLabel('Adults').fill('4');
    await page.getByLabel('Juveniles').fill('9');
    await writeDown(page);
    expect(counts(t, id)).toMatchObject([{ method: 'full', counted: 13 }]);
  });
});
