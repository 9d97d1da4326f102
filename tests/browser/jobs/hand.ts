import type { Locator, Page, Request } from 'playwright-core';
import { expect } from 'vitest';
import { arrowTo, tabTo } from './keys.ts';
import type { Mode } from './mode.ts';

/** What a page must never do, whatever the job: stick out, move by itself, run an animation. */
const pageFaults = `(() => {
  const faults = [];
  const { scrollWidth, clientWidth } = document.documentElement;
  if (scrollWidth > clientWidth) faults.push((scrollWidth - clientWidth) + ' pixels stick out');
  const running = document.getAnimations().length;
  if (running > 0) faults.push(running + ' animations run');
  if (window.shifts?.length) faults.push('moved: ' + window.shifts.splice(0).join(', '));
  return faults;
})()`;

/** Notes what moves without anybody having touched it (the Layout Instability API). */
const watchShifts = `
  window.shifts = [];
  new PerformanceObserver((list) => {
    for (const { value, hadRecentInput, sources } of list.getEntries())
      if (!hadRecentInput && value >= 0.0005)
        window.shifts.push(value.toFixed(4) + ' ' + (sources[0]?.node?.parentElement?.outerHTML ?? '').slice(0, 90));
  }).observe({ type: 'layout-shift', buffered: true });`;

export type Named = { role?: 'button' | 'link'; exact?: boolean; within?: Locator };

/** Does the steps of a job the way its mode allows: by finger and mouse, or with Tab, Space, Enter and the arrows. */
export class Hand {
  private asking = 0;
  private asked = 0;
  readonly faults: string[] = [];

  private constructor(
    readonly page: Page,
    readonly base: string,
    private readonly mode: Mode,
  ) {}

  static async at(page: Page, base: string, mode: Mode): Promise<Hand> {
    const hand = new Hand(page, base, mode);
    page.on('request', (one) => {
      if (one.resourceType() === 'eventsource') return;
      hand.asking += 1;
      hand.asked += 1;
    });
    const ended = (one: Request) => {
      if (one.resourceType() !== 'eventsource') hand.asking -= 1;
    };
    page.on('requestfinished', ended);
    page.on('requestfailed', ended);
    page.on('pageerror', (error) => hand.faults.push(String(error)));
    page.on('console', (line) => {
      // A form that comes back with its messages is an answer 422, which the browser calls an error, as it does a
      // preview that is no longer waited for.
      const usual = /422|^htmx:(sendAbort|afterRequest)/;
      if (line.type() === 'error' && !usual.test(line.text())) hand.faults.push(line.text());
    });
    if (mode.javaScript) await page.addInitScript(watchShifts);
    return hand;
  }

  /** Waits until nothing is asked for any more, then looks at the page. */
  private async settled(askedBefore: number) {
    for (let left = 10; left > 0 && this.asked === askedBefore; left -= 1) await this.page.waitForTimeout(15);
    // Between a form's answer and the page it leads to nothing is asked for either.
    for (let quiet = 0, left = 1_000; quiet < 3 && left > 0; left -= 1) {
      await this.page.waitForTimeout(15);
      quiet = this.asking <= 0 ? quiet + 1 : 0;
    }
    await this.page.waitForLoadState('domcontentloaded');
    const found = (await this.page.evaluate(pageFaults)) as string[];
    for (const fault of found) this.faults.push(`${new URL(this.page.url()).pathname}: ${fault}`);
  }

  async go(path: string) {
    const before = this.asked;
    const answer = await this.page.goto(this.base + path);
    expect(answer?.status(), path).toBe(200);
    await this.settled(before);
  }

  get hasScript() {
    return this.mode.javaScript;
  }

  private find(name: string, { role = 'button', exact = true, within }: Named) {
    return (within ?? this.page.locator('body')).getByRole(role, { name, exact }).first();
  }

  /** A button or link: with the keyboard what had the focus must not lose it where only a part of the page is changed. */
  async press(name: string, how: Named = {}) {
    const wanted = this.find(name, how);
    const before = this.asked;
    if (!this.mode.keysOnly) {
      await wanted.click();
      return this.settled(before);
    }
    await tabTo(this.page, wanted);
    await this.page.evaluate('window.before = true');
    await this.page.keyboard.press('Enter');
    await this.settled(before);
    const lost = await this.page.evaluate(
      'window.before === true && document.activeElement === document.body',
    );
    if (lost) this.faults.push(`the focus is lost after ${name}`);
  }

  /** What is folded away under some words. */
  async unfold(words: string) {
    const summary = this.page.locator('summary', { hasText: words }).first();
    if (await this.page.locator('details[open] > summary', { hasText: words }).count()) return;
    if (this.mode.keysOnly) {
      await tabTo(this.page, summary);
      await this.page.keyboard.press('Enter');
    } else await summary.click();
  }

  /** Fields that may be left empty say so in their label. */
  field(label: string, nth = 0) {
    const plain = label.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
    return this.page.getByLabel(new RegExp(`^\\s*${plain}\\s*(optional)?\\s*$`)).nth(nth);
  }

  async type(label: string, text: string, nth = 0) {
    const field = this.field(label, nth);
    if (!this.mode.keysOnly) return field.fill(text);
    await tabTo(this.page, field);
    // A day is typed into its parts, in the order in which this browser has them.
    const day = (await field.getAttribute('type')) === 'date' && /^(\d+)-(\d+)-(\d+)$/.exec(text);
    if (!day) await this.page.keyboard.press('Control+A');
    await this.page.keyboard.type(day ? `${day[2]}${day[3]}${day[1]}` : text);
    expect(await field.inputValue(), label).toBe(text);
  }

  /** One of a list, by its first words. */
  async pick(label: string, words: string) {
    const field = this.field(label);
    const option = field.locator('option', { hasText: words }).first();
    const value = (await option.getAttribute('value')) ?? '';
    if (!this.mode.keysOnly) await field.selectOption(value);
    else {
      await tabTo(this.page, field);
      await this.page.keyboard.type((await option.textContent())?.trim() ?? '');
    }
    expect(await field.inputValue(), label).toBe(value);
  }

  /** A box to tick or one of several buttons. */
  async tick(label: string | RegExp) {
    const wanted = this.page.getByLabel(label).first();
    const isRadio = (await wanted.getAttribute('type')) === 'radio';
    if (!this.mode.keysOnly) await wanted.check();
    else if (isRadio) await arrowTo(this.page, wanted);
    else {
      await tabTo(this.page, wanted);
      await this.page.keyboard.press('Space');
    }
    expect(await wanted.isChecked(), String(label)).toBe(true);
  }

  async give(label: string, file: { name: string; mimeType: string; buffer: Buffer }) {
    const field = this.field(label);
    if (this.mode.keysOnly) await tabTo(this.page, field);
    await field.setInputFiles(file);
  }

  /** The file a link leads to, fetched as the browser would. */
  async file(name: string): Promise<{ type: string; bytes: Buffer }> {
    const link = this.find(name, { role: 'link' });
    if (this.mode.keysOnly) await tabTo(this.page, link);
    const answer = await this.page.context().request.get(this.base + (await link.getAttribute('href')));
    expect(answer.status()).toBe(200);
    return { type: answer.headers()['content-type'] ?? '', bytes: await answer.body() };
  }

  /** Searches from whatever page is open: with keys where there is a script, else by what stands on top. */
  async search(words: string) {
    const field = this.page.locator('#top-search-words, #search-words').locator('visible=true');
    if (this.mode.javaScript) {
      await this.page.keyboard.press('Control+k');
      await expect
        .poll(() => this.page.evaluate('document.activeElement.name'), { timeout: 3_000 })
        .toBe('q');
    } else if ((await field.count()) > 0 && this.mode.keysOnly) await tabTo(this.page, field);
    else if ((await field.count()) > 0) await field.click();
    else {
      await this.press('Search', { role: 'link' });
      await field.click();
    }
    await this.page.keyboard.type(words);
    const before = this.asked;
    await this.page.keyboard.press('Enter');
    await this.settled(before);
  }

  /** The words of a page as somebody reads them, spaces made one. */
  async words(part = 'main'): Promise<string> {
    return ((await this.page.locator(part).first().textContent()) ?? '').replace(/\s+/g, ' ');
  }

  async sees(...all: string[]) {
    for (const words of all) await expect.poll(() => this.words(), { timeout: 5_000 }).toContain(words);
  }
}
