import { beforeAll, describe, expect, it } from 'vitest';
import { calculations } from '../../shared/calculations.ts';
import { orderTotal } from '../../shared/orders/money.ts';
import { workings } from '../../views/workings/registry.ts';
import { furnishedBench, gets, type Walk } from '../support/walk.ts';

/** What a page marks as worked out, and what it explains. */
function namesOf(html: string, attribute: string): string[] {
  const found = [...html.matchAll(new RegExp(`${attribute}="([^"]*)"`, 'g'))];
  return [...new Set(found.flatMap(([, names = '']) => names.split(' ')))].sort();
}

function unexplained(html: string): string[] {
  const explained = new Set(namesOf(html, 'data-explains'));
  return namesOf(html, 'data-computed').filter((name) => !explained.has(name));
}

describe('numbers that were worked out', () => {
  let walk: Walk;
  const marked = new Set<string>();
  beforeAll(async () => {
    walk = await furnishedBench();
  });

  it('have their explanation on their page, whichever page it is', async () => {
    const wrong: string[] = [];
    for (const address of gets(walk)) {
      const path = walk.at(address);
      if (/\.(pdf|csv|zip|json|jpg|ics)$|\/live$|^\/static/.test(path)) continue;
      const { status, text = '', headers } = await walk.owner.get(path);
      if (status !== 200 || !/text\/html/.test(headers['content-type'] ?? '')) continue;
      if (!text.includes('<main')) continue;
      for (const name of namesOf(text, 'data-computed')) marked.add(name);
      for (const name of unexplained(text)) wrong.push(`${path}: ${name}`);
    }
    expect(wrong).toEqual([]);
    expect(marked.size).toBeGreaterThan(5);
  });

  it('come out again when what went in is put through the same function', async () => {
    const { text } = await walk.owner.get('/orders/1');
    const [, facts = ''] = /data-explains="total".*?<dl[^>]*>(.*?)<\/dl>/s.exec(text) ?? [];
    const minor = (amount: string) => Math.round(Number(amount.replace(/[^\d.]/g, '')) * 100);
    const lines = [...facts.matchAll(/(\d+) × <span class="figure">([^<]+)</g)];
    const [, postage = ''] = /Postage<\/dt><dd[^>]*><span class="figure">([^<]+)</.exec(facts) ?? [];
    const [, said = ''] =
      /data-computed="total"[^>]*><span class="figure">([^<]+)<\/span><\/td><\/tr><\/tfoot>/.exec(text) ?? [];
    expect(lines.length).toBeGreaterThan(0);
    const priced = lines.map(([, groups, price = '']) => ({
      groups: Number(groups),
      priceMinor: minor(price),
    }));
    expect(minor(said)).toBe(orderTotal(priced, minor(postage)));
    expect(minor(said)).toBeGreaterThan(0);
  });

  it('would be caught without one', () => {
    expect(unexplained('<td data-computed="surplus">3</td><details data-explains="air due">')).toEqual([
      'surplus',
    ]);
  });

  it('have a working behind every calculation of the command line', () => {
    const told = Object.values(workings).flatMap((working) => working.calculations ?? []);
    expect([...new Set(told)].sort()).toEqual(Object.keys(calculations).sort());
  });
});
