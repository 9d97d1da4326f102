import type { DefaultTreeAdapterMap } from 'parse5';
import { parse } from 'parse5';
import { describe, expect, it } from 'vitest';
import { business, customers } from '../../server/schema/tables.ts';
import { saveBusiness } from '../../server/settings/queries.ts';
import { furnishedBench, gets, type Walk } from '../support/walk.ts';

type Node = DefaultTreeAdapterMap['node'];

/** What somebody reads on a page, piece by piece: no attributes, nothing typed by people. */
function* textsUnder(node: Node): Generator<string> {
  if (
    'tagName' in node &&
    ['head', 'script', 'style', 'textarea', 'option', 'pre', 'code'].includes(node.tagName)
  )
    return;
  if ('value' in node && typeof node.value === 'string') yield node.value;
  if ('childNodes' in node) for (const child of node.childNodes) yield* textsUnder(child);
}
const textOf = (html: string) => [...textsUnder(parse(html))].join('\u2003').replace(/[ \t\n]+/g, ' ');

const months = 'Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Sept|Oct|Nov|Dec';
const isoDay = /(?<![\w./-])\d{4}-\d\d-\d\d(?!\w)/;
const britishDay = new RegExp(`\\b\\d{1,2} (${months})\\b(?! \\w+ing)`);
const americanDay = new RegExp(`\\b(${months}) \\d{1,2}\\b`);
/** Three figures after a point may be thousands. */
const point = /(?<![\w.,/-])\d+\.(\d{1,2}|\d{4,})(?![\w.])/;
const metric = /\d[ \u00a0](°C|ml|cm|mm|kg|g|L|litres?)(?![\w²³/])/;
/** Figure and unit are joined by a no-break space; an inch is else too much like a word. */
const customary = /\d\u00a0(°F|in|tsp|tbsp|cups?|qt|oz|lb)(?![\w²³/])/;

const houses = [
  {
    name: 'of the United States',
    as: {
      locale: 'en-US',
      units: 'us',
      country: 'US',
      timeZone: 'America/New_York',
      currency: 'USD',
      paper: 'Letter',
    },
    wrong: { isoDay, britishDay, metric },
  },
  {
    name: 'of Germany',
    as: {
      locale: 'de-DE',
      units: 'metric',
      country: 'DE',
      timeZone: 'Europe/Berlin',
      currency: 'EUR',
      paper: 'A4',
    },
    wrong: { isoDay, britishDay, americanDay, point, customary },
  },
] as const;

/** Where a form is rightly another. */
const inFiles = 'how files say it, or what stood in one';
const asTyped = 'how fields take it';
const published = 'a figure of a published source, as it is printed there';
const exempt: Record<string, Record<string, string>> = {
  '/climate': { point: published },
  '/climate/:id': { isoDay: inFiles },
  '/feeders/:id/edit': { point: asTyped },
  '/invoices/ledger.csv': { isoDay: asTyped },
  '/label-sheets/preview': { point: asTyped },
  '/packing-sheets.pdf': { isoDay: 'an address' },
  '/parcels/boxes/:id/edit': { point: published },
  '/parcels/boxes/new': { point: published },
  '/parcels/boxes/:id/logs/:log': {
    point: published,
    metric: 'a reckoning in J/(kg K), with its mass in kg',
  },
  '/parcels/boxes/:id/measure': { isoDay: inFiles, metric: 'both units side by side', customary: 'the same' },
  '/parcels/orders/:number': { point: published },
  '/parcels/stock': { point: published },
  '/parcels/weather': { isoDay: inFiles },
  '/parcels/weather/:id': { isoDay: inFiles },
  '/parcels/weather/:id/edit': { point: asTyped },
  '/parcels/weather/new': { point: asTyped },
  '/records': { isoDay: inFiles, customary: inFiles },
  '/records/drafts/:key': { isoDay: inFiles, point: inFiles },
  '/records/drafts/:key/files/:number/rows/:line': { isoDay: inFiles },
  '/settings/business': { metric: 'papers are named by their measures', customary: 'the same' },
  '/substrate': { point: published, metric: published },
};

async function wrongOn(t: Walk, wrong: Record<string, RegExp>) {
  const found: string[] = [];
  let pages = 0;
  for (const address of gets(t).filter(({ path }) => !path.endsWith('/live'))) {
    const { text } = await t.owner.get(t.at(address));
    if (!text?.startsWith('<!doctype html>')) continue;
    pages += 1;
    const words = textOf(text);
    for (const [name, form] of Object.entries(wrong)) {
      if (exempt[address.path]?.[name]) continue;
      for (const at of words.matchAll(new RegExp(form, 'g')))
        found.push(`${address.path}: ${name}: ${words.slice(Math.max(0, at.index - 40), at.index + 30)}`);
    }
  }
  expect(pages).toBeGreaterThan(100);
  return found;
}

describe('every page of a business', () => {
  it.each(houses)('$name says days, numbers and measures as they are said there', async ({ as, wrong }) => {
    const t = await furnishedBench();
    const kept = t.db.select().from(business).get();
    if (!kept) throw new Error('no business');
    saveBusiness(t.db, { ...kept, ...as }, t.clock.now());
    t.db.update(customers).set({ units: as.units }).run();
    expect(await wrongOn(t, wrong)).toEqual([]);
  });
});
