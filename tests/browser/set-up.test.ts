import { afterAll, describe, expect, it } from 'vitest';
import { renewSetUpLink } from '../../server/people/set-up.ts';
import { closeDevices, deviceAt, listening } from '../support/browser.ts';
import { bareApp } from '../support/test-app.ts';

afterAll(closeDevices);

/** The page of the set-up on a slow line: what is usual in the country comes when `letThrough` is called. */
async function onASlowLine() {
  const t = await bareApp();
  const base = `http://127.0.0.1:${await listening(t)}`;
  const { page } = await deviceAt(t, base, null, { like: { serviceWorkers: 'block' } });
  await page.goto(`${base}/set-up?token=${renewSetUpLink(t.db, t.clock.now())}`);
  let letThrough = () => {};
  const held = new Promise<void>((done) => {
    letThrough = done;
  });
  let answered = 0;
  await page.route(/country=DE/, async (route) => {
    await held;
    await route.continue();
  });
  page.on('requestfinished', (one) => {
    if (one.url().includes('country=DE')) answered += 1;
  });
  const firstOf = (label: string) => page.getByLabel(label).locator('option').first().textContent();
  await page.getByLabel('Country', { exact: true }).selectOption('DE');
  return { page, letThrough, answers: () => answered, firstOf };
}

describe('what is usual in the country', () => {
  it('is said when it arrives', async () => {
    const { letThrough, firstOf } = await onASlowLine();
    expect(await firstOf('Currency')).toBe('As the country has it');
    letThrough();
    await expect.poll(() => firstOf('Currency')).toBe('As in Germany: Euro (EUR)');
  });

  it('does not take back what was chosen before it arrived', async () => {
    const { page, letThrough, answers, firstOf } = await onASlowLine();
    const zone = page.getByLabel('Time zone');
    await zone.focus();
    await zone.selectOption('Europe/Vienna');
    letThrough();
    await expect.poll(answers).toBe(1);
    await page.waitForTimeout(100);
    expect(await zone.inputValue()).toBe('Europe/Vienna');
    await page.getByLabel('Currency').focus();
    await expect.poll(() => firstOf('Currency')).toBe('As in Germany: Euro (EUR)');
    expect(await zone.inputValue()).toBe('Europe/Vienna');
    expect(await page.evaluate('document.activeElement.name')).toBe('currency');
  });
});
