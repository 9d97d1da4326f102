import { expect, it } from 'vitest';
import { furnishedBench, gets } from '../support/walk.ts';

const between = (html: string, from: RegExp) =>
  (from.exec(html)?.[1] ?? '')
    .replace(/<[^>]+>/g, '')
    .replace(/\s+/g, ' ')
    .trim();

/** What a title alone, a name, or a day is not: enough words to say what somebody comes here for. */
const fewestWords = 4;

it('every page says in one line under its title what it is for', { timeout: 60_000 }, async () => {
  const t = await furnishedBench();
  const silent: string[] = [];
  let pages = 0;
  for (const address of gets(t).filter(({ path }) => !path.endsWith('/live'))) {
    const { status, text, headers } = await t.owner.get(t.at(address));
    if (status !== 200 || !headers['content-type']?.includes('text/html') || !text.includes('<h1')) continue;
    pages += 1;
    const purpose = between(text, /<p class="purpose">(.*?)<\/p>/s);
    if (purpose.split(' ').length < fewestWords) silent.push(`${address.path}: ${purpose}`);
  }
  expect(pages).toBeGreaterThan(100);
  expect(silent).toEqual([]);
});
