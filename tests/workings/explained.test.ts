import { beforeAll, describe, expect, it } from 'vitest';
import { calculations } from '../../shared/calculations.ts';
import { workings } from '../../views/workings/registry.ts';
import { gets } from '../support/walk.ts';
import { fullBench } from './full-bench.ts';
import { givenNumbers } from './given.ts';
import { markedNumbers, namesOf, unmarkedNumbers, withoutMarks } from './numbers.ts';
import { reckonings } from './reckoned.ts';

const unexplained = (html: string) => {
  const explained = new Set(namesOf(html, 'data-explains'));
  return namesOf(html, 'data-computed').filter((name) => !explained.has(name));
};

type Page = { path: string; html: string };

/** Numbers that stand in the pages' own words: examples, standards, common practice. */
const ownWords: Record<string, readonly number[]> = {
  '/invoices/ledger': [3166, 4217],
  '/parcels/boxes/1/measure': [104],
  '/settings': [12345.6],
  '/settings/reads': [400],
};
/** A page by its address, or by how that begins or ends where it holds a code or an order's own address. */
const addressed = (path: string, page: string) =>
  /[-/]$/.test(page) ? path.startsWith(page) && !path.slice(page.length).includes('/') : path.endsWith(page);

const amountIn = (number: string) => Number(number.replaceAll(',', ''));

describe('numbers that were worked out', () => {
  let pages: Page[] = [];
  let given: Set<number>;
  beforeAll(async () => {
    const walk = await fullBench();
    given = givenNumbers(walk);
    pages = [];
    for (const path of [...gets(walk).map(walk.at), ...walk.more]) {
      if (/\.(pdf|csv|zip|json|jpg|ics)$|\/live$|^\/(static|workings)/.test(path)) continue;
      const { status, text: html = '', headers } = await walk.owner.get(path);
      const isPage = status === 200 && /text\/html/.test(headers['content-type'] ?? '');
      if (isPage && html.includes('<main')) pages.push({ path, html });
    }
  });

  it('have their explanation on their page, whichever page it is', () => {
    const wrong = pages.flatMap(({ path, html }) => unexplained(html).map((name) => `${path}: ${name}`));
    expect(wrong).toEqual([]);
    expect(pages.length).toBeGreaterThan(100);
  });

  it('are told of on customers’ pages too, in words of their own', () => {
    const theirs = pages.filter(({ path }) => /^\/(o\/|available)/.test(path));
    expect(theirs.map(({ html }) => namesOf(html, 'data-computed').length > 0)).toEqual([true, true]);
    for (const { html } of theirs) {
      expect(html).toContain('<summary>How do we know?</summary>');
      expect(html).not.toMatch(/\/workings|EX-\d|Shelf/);
    }
  });

  // A number that nobody typed in, and that is no day, name or count of the bench, came out of a calculation.
  const ofNobody = ({ path, html }: Page) =>
    unmarkedNumbers(html).filter(({ number }) => {
      const value = amountIn(number);
      return !given.has(value) && !ownWords[path]?.includes(value);
    });

  it('are marked: every number without a mark was given by somebody', () => {
    const wrong = pages.flatMap((page) =>
      ofNobody(page).map(({ under, words }) => `${page.path}: ${under} ${words}`),
    );
    expect(wrong).toEqual([]);
  });

  it('would be missed, of nearly every kind, without their marks', () => {
    const kinds = new Set(pages.flatMap(({ html }) => markedNumbers(html).map(({ of = '' }) => of)));
    const missed = new Set<string>();
    for (const { path, html } of pages)
      for (const kind of namesOf(html, 'data-computed'))
        if (ofNobody({ path, html: withoutMarks(html, kind) }).length > 0) missed.add(kind);
    expect(kinds.size).toBeGreaterThan(12);
    expect([...kinds].filter((kind) => !missed.has(kind))).toEqual([]);
  });

  it.each(reckonings)('come out again from what stands beside them: $what', (reckoning) => {
    const { page } = reckoning;
    const found = pages.find(({ path }) => path === page) ?? pages.find(({ path }) => addressed(path, page));
    const { html = '' } = found ?? {};
    const said = reckoning.said(html);
    expect(said).toBeGreaterThan(0);
    expect(Math.abs(said - reckoning.again(html))).toBeLessThanOrEqual(reckoning.within + 1e-9);
  });

  it('would be caught without an explanation', () => {
    expect(unexplained('<td data-computed="surplus">3</td><details data-explains="air due">')).toEqual([
      'surplus',
    ]);
  });

  it('have a working behind every calculation of the command line', () => {
    const told = Object.values(workings).flatMap((working) => working.calculations ?? []);
    expect([...new Set(told)].sort()).toEqual(Object.keys(calculations).sort());
  });
});
