import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { beforeAll, describe, expect, it } from 'vitest';
import { addressOfOrder } from '../../server/arrivals/queries-links.ts';
import { printWhole } from '../../server/plumbing/print-in-thread.ts';
import { makeCounted } from '../support/counted-stock.ts';
import { describedSpecies } from '../support/described-species.ts';
import { makeInvoice } from '../support/invoices.ts';
import { furnishOffers } from '../support/offers.ts';
import { makeLine, makeOrder } from '../support/orders.ts';
import { fill, openColumns, unguarded } from '../support/stored-text.ts';
import { testApp, testNow } from '../support/test-app.ts';
import { options } from './sample-orders.ts';

/** What would run, open or lead somewhere were it ever taken for a part of the file (ISO 32000-1, 12.6, 7.11.4, 12.5.6). */
const hostile = [
  ')>> /OpenAction << /S /JavaScript /JS (app.alert(1)) >> (',
  'https://evil.example.org/a javascript:alert(1) mailto:x@example.org',
  '<</Type/Action/S/Launch/F(cmd.exe)>> endobj 1 0 obj',
  "]]></rdf:li><?xpacket end='w'?><script>alert(1)</script>",
  '\\) /URI (https://evil.example.org) \u0000\u0007\u001b[31m',
  'endstream endobj << /EmbeddedFile /Names >> \\101\\n',
  '3 groups \u202e21 fo \u2067for nobody\u2069\u202c',
  'FEFF \ufeff\u200b\ud800 \ufffe(())((',
] as const;

/** What the file is made of besides its texts: all that stands in no string and, by its length, in no stream. */
function skeletonOf(pdf: Buffer): string {
  const raw = pdf.toString('latin1');
  const beginnings = /\/Length (\d+)\b[\s\S]*?\bstream\r?\n/g;
  let outside = '';
  let at = 0;
  for (let found = beginnings.exec(raw); found; found = beginnings.exec(raw)) {
    outside += raw.slice(at, beginnings.lastIndex);
    at = beginnings.lastIndex + Number(found[1]);
    beginnings.lastIndex = at;
  }
  return (outside + raw.slice(at))
    .replace(/\((?:\\[\s\S]|[^\\()])*\)/g, '()')
    .replace(/<[0-9a-f\s]*>/gi, '<>');
}

/** Controls, embeddings and overrides. */
const turns = /(?!\n)[\p{Cc}\u202a-\u202e]/u;

const active =
  /\/(OpenAction|AA|JavaScript|JS|Launch|URI|GoToR|SubmitForm|ImportData|EmbeddedFiles?|RichMedia|Annots|AcroForm|XFA)\b/;

/** How a reader takes it: attachments, scripts, what happens at the opening, links, and where bookmarks lead. */
async function livelyPartsOf(pdf: Buffer): Promise<string[]> {
  const document = await getDocument({ data: new Uint8Array(pdf), verbosity: 0 }).promise;
  const found: string[] = [];
  const add = (what: string, value: unknown) => value && found.push(what);
  add('attachments', await document.getAttachments());
  add('scripts', await document.getJSActions());
  add('action', await document.getOpenAction());
  add('form', await document.getFieldObjects());
  for (const { url, title } of (await document.getOutline()) ?? []) {
    add('bookmark with an address', url);
    add('bookmark that turns', turns.test(title));
  }
  const { info, metadata } = await document.getMetadata();
  const { Title = '', Author = '' } = info as Record<string, string>;
  add('title or author that turns', turns.test(`${Title} ${Author}`));
  add(
    'metadata that ends early',
    /<script|<\?xpacket end='w'\?>[\s\S]*<\?xpacket end/.test(metadata?.getRaw() ?? ''),
  );
  for (let number = 1; number <= document.numPages; number += 1) {
    const page = await document.getPage(number);
    add('annotation', (await page.getAnnotations()).length > 0);
    add('script of a page', await page.getJSActions());
    const { items } = await page.getTextContent();
    const words = items.map((item) => ('str' in item ? item.str : '')).join(' ');
    add('text that turns', turns.test(words));
  }
  await document.destroy();
  return found;
}

// a thread that begins reads all the faces first; on a busy machine that takes longer than a page may wait
beforeAll(async () => {
  await printWhole({ kind: 'packing', orders: [], options, bench: null });
}, 120_000);

/** A confirmed order with all its papers, an invoice, and the list of what is spare. */
async function withPapers() {
  const t = await testApp();
  const kind = describedSpecies(t.db);
  const culture = makeCounted(t.db, kind.id, 160);
  const order = makeOrder(t.db, { dispatchOn: '2026-11-30', note: 'Ring twice.' });
  const line = makeLine(t.db, order.id, kind.id);
  await t.owner.post('/orders/1/reserve', { [`groups-${line.id}-${culture.id}`]: 1 });
  expect((await t.owner.post('/orders/1/confirm')).status).toBe(303);
  furnishOffers(t.db, kind.id);
  makeInvoice(t.db, order.id);
  const papers = [
    '/orders/1/packing-sheet.pdf',
    '/orders/1/care-sheets.pdf',
    '/packing-sheets.pdf?day=2026-11-30',
    `/species/${kind.id}/care-sheet.pdf`,
    `/labels/sheet.pdf?first=1&cultures=${culture.id}`,
    '/offers/list.pdf',
    '/invoices/1/invoice.pdf',
    `${addressOfOrder(t.db, order.id, { base: '', now: testNow })}/care-sheets.pdf`,
  ];
  return { t, papers };
}

describe('papers', () => {
  it('hold text and nothing that acts, whatever names and notes hold', async () => {
    const { t, papers } = await withPapers();
    unguarded(t);
    const columns = openColumns(t);
    expect(columns.length).toBeGreaterThan(20);
    const wrong: string[] = [];
    // so that each text stands once in each place
    for (let round = 0; round < hostile.length; round += 3) {
      fill(t, columns, (at) => `${hostile[(at + round) % hostile.length]} ${at}`);
      for (const path of papers) {
        const visitor = path.startsWith('/o/') ? t.outsider : t.owner;
        let got = await visitor.bytes(path);
        // Printing is bounded in time: where others use the machine, it is asked to come back.
        for (let tries = 0; got.status === 503 && tries < 5; tries += 1) got = await visitor.bytes(path);
        expect([path, got.status, got.type]).toEqual([path, 200, 'application/pdf']);
        const [lively] = active.exec(skeletonOf(got.body)) ?? [];
        if (lively) wrong.push(`${path} ${lively}`);
        wrong.push(...(await livelyPartsOf(got.body)).map((what) => `${path} ${what}`));
      }
    }
    expect(wrong).toEqual([]);
  });
});
