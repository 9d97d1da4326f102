import type { Locator, Page } from 'playwright-core';

/** Where the answer shows: in the page that stands there, or on the next. */
export type Shows = 'part' | 'page';

/** Something people do all day: `ready` brings the page so far, `press` is what is timed. */
export type Action = {
  name: string;
  shows: Shows;
  ready: (page: Page, base: string, run: number) => Promise<unknown>;
  press: (page: Page) => Promise<unknown>;
};

const main = (page: Page) => page.locator('main');
const button = (page: Page, name: string | RegExp) => main(page).getByRole('button', { name }).first();
const press = (name: string | RegExp) => (page: Page) => button(page, name).click();

/** Codes of the round, found once, so that each run has another culture. */
let codes: string[] = [];

async function codeFor(page: Page, base: string, run: number): Promise<string> {
  if (codes.length === 0) {
    await page.goto(`${base}/round?part=all`);
    const found = await page.locator('[data-code]').all();
    codes = await Promise.all(found.map(async (row) => (await row.getAttribute('data-code')) ?? ''));
    if (codes.length === 0) throw new Error('the round of the demo has no cultures');
  }
  return codes[run % codes.length] ?? '';
}

/** A page of a culture of the round. */
const at = (page: Page, base: string, run: number, path: string) =>
  codeFor(page, base, run).then((code) => page.goto(`${base}/cultures/${code}${path}`));

const undoCheck = (page: Page) => page.getByRole('button', { name: 'Undo the check of' }).first();
const undoPutOff = (page: Page) => page.locator('#notice').getByRole('button', { name: 'Undo' });

/** Takes back what the run before did, so that every run finds the same. */
async function asBefore(page: Page, run: number, undo: (page: Page) => Locator) {
  if (run === 0) return;
  const opened = page.waitForEvent('load');
  await undo(page).click();
  await opened;
}

export const helperActions: readonly Action[] = [
  {
    name: 'all well',
    shows: 'part',
    async ready(page, base, run) {
      await asBefore(page, run, undoCheck);
      await page.goto(`${base}/round`);
    },
    press: press(/: all well/),
  },
  {
    name: 'all well taken back',
    shows: 'page',
    async ready(page, base) {
      await page.goto(`${base}/round`);
      await button(page, /: all well/).click();
      await undoCheck(page).waitFor();
      await page.waitForTimeout(400);
    },
    press: (page) => undoCheck(page).click(),
  },
  {
    name: 'a task put off',
    shows: 'page',
    async ready(page, base, run) {
      await asBefore(page, run, undoPutOff);
      await page.goto(`${base}/round`);
      const href = await page.locator('main [data-code] a[href*="/put-off"]').first().getAttribute('href');
      await page.goto(base + href);
      await page.fill('[name=reason]', 'the box is away');
    },
    press: press('Put it off'),
  },
  {
    name: 'a check saved',
    shows: 'page',
    async ready(page, base, run) {
      await at(page, base, run, '/check?from=round');
      await page.fill('[name=waterMl]', '15');
    },
    press: (page) => page.locator('main .button-main').last().click(),
  },
  {
    name: 'a count saved',
    shows: 'page',
    async ready(page, base, run) {
      await at(page, base, run, '/count?method=visible');
      await page.fill('[name=counted]', '12');
    },
    press: (page) => page.locator('main .button-main').last().click(),
  },
  {
    name: 'one more on the tally',
    shows: 'part',
    async ready(page, base, run) {
      if (run === 0) await at(page, base, 0, '/tally');
    },
    press: (page) => page.locator('.tally-keys [data-step="1"]').first().click(),
  },
  {
    name: 'the next page by a link',
    shows: 'page',
    ready: (page, base, run) => page.goto(`${base}${run % 2 === 0 ? '/round' : '/surplus'}`),
    press: (page) => page.locator('nav.bar a[href$="/cultures"]').click(),
  },
];
