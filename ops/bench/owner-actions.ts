import type { Page } from 'playwright-core';
import type { Action } from './helper-actions.ts';

/** The orders that could be packed when the bench began. */
let waiting: number[] | null = null;

async function orderFor(page: Page, base: string): Promise<number> {
  if (waiting === null) {
    await page.goto(`${base}/orders?state=confirmed`);
    const hrefs = await Promise.all(
      (await page.locator('main a[href*="/orders/"]').all()).map((one) => one.getAttribute('href')),
    );
    waiting = [...new Set(hrefs.flatMap((href) => /\/orders\/(\d+)$/.exec(href ?? '')?.[1] ?? []))].map(
      Number,
    );
  }
  for (const order of waiting) {
    await page.goto(`${base}/orders/${order}/pack`);
    if (await page.getByRole('button', { name: 'Mark as packed' }).isVisible()) {
      waiting = [order];
      return order;
    }
  }
  throw new Error('the demo has no order that may be packed');
}

const listAndCulture = async (page: Page, base: string) => {
  await page.goto(`${base}/cultures`);
  await page.locator('main a[href*="/cultures/"]').first().click();
  await page.waitForURL(/\/cultures\/.+/);
  await page.waitForLoadState('load');
};

export const ownerActions: readonly Action[] = [
  {
    name: 'an order marked as packed',
    shows: 'page',
    async ready(page, base, run) {
      if (run > 0) {
        const opened = page.waitForEvent('load');
        await page.getByRole('button', { name: 'Not packed after all' }).click();
        await opened;
      }
      await orderFor(page, base);
      for (const tick of await page.locator('main .pick input[type=checkbox]').all()) await tick.check();
    },
    press: (page) => page.getByRole('button', { name: 'Mark as packed' }).click(),
  },
  {
    name: 'what is found while typing',
    shows: 'part',
    async ready(page, base) {
      await page.goto(`${base}/search`);
      await page.fill('#search-words', '');
      await page.focus('#search-words');
    },
    press: (page) => page.keyboard.press('a'),
  },
  {
    name: 'a search by Enter from any page',
    shows: 'page',
    async ready(page, base) {
      await page.goto(`${base}/surplus`);
      await page.keyboard.press('Control+k');
      await page.keyboard.type('AM');
    },
    press: (page) => page.keyboard.press('Enter'),
  },
  {
    name: 'the next page by a link',
    shows: 'page',
    ready: (page, base, run) => page.goto(`${base}${run % 2 === 0 ? '/orders' : '/customers'}`),
    press: (page) => page.locator('.top-sections a[href$="/species"]').click(),
  },
  {
    name: 'back to the list of cultures',
    shows: 'page',
    ready: listAndCulture,
    press: async (page) => {
      // There is no press in the page to time: the browser's own button is one of its own.
      await page.evaluate(`dispatchEvent(new KeyboardEvent('keydown')); setTimeout(() => history.back())`);
    },
  },
];
