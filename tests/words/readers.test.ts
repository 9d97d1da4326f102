import { parse } from 'parse5';
import { beforeAll, describe, expect, it } from 'vitest';
import { addressOfOrder, ensureLink } from '../../server/arrivals/queries-links.ts';
import { firstOfferSettings, saveOfferSettings } from '../../server/offers/queries.ts';
import { business, speciesCare, species as speciesTable } from '../../server/schema/tables.ts';
import { type Language, languages } from '../../shared/settings/languages.ts';
import { plainMail } from '../../views/mails/letter.tsx';
import * as write from '../../views/mails/write.ts';
import { speakerFor } from '../../views/words/speaker.ts';
import { readPdf } from '../documents/read-pdf.ts';
import { makeCounted } from '../support/counted-stock.ts';
import { describedSpecies } from '../support/described-species.ts';
import { makeCustomer, makeLine, makeOrder } from '../support/orders.ts';
import { formsOn } from '../support/page-parts.ts';
import { cast, type TestApp, testApp, testNow } from '../support/test-app.ts';

/** What the owner or a customer wrote, and names: not ours to translate. */
const written = [
  'Test Bench',
  'Qexlane 1',
  'Qextown',
  'bench@example.org',
  'Qora Qexner',
  'Exemplum',
  'qexopod',
  'qexwords',
  'holes',
  'Base layer',
  'leaf mould',
  'white wood',
  'Never release them.',
  'Wash your hands.',
  'Deutsch',
  'Español',
  'https://',
  'EX-',
  'XY 12',
  'EUR',
  'VAT',
];

const isOurs = (text: string) => /\p{L}{3}/u.test(text) && !written.some((word) => text.includes(word));
const tidy = (text: string) => text.replace(/\s+/g, ' ').trim();

type Node = {
  tagName?: string;
  value?: string;
  childNodes?: Node[];
  attrs?: { name: string; value: string }[];
};

/** What somebody reads or hears on a page, piece by piece. */
function* piecesUnder(node: Node): Generator<string> {
  // Names of countries and languages in lists are checked where they are made.
  if (['script', 'style', 'option'].includes(node.tagName ?? '')) return;
  if (node.value !== undefined && node.tagName === undefined) yield node.value;
  for (const { name, value } of node.attrs ?? [])
    if (['aria-label', 'alt', 'title', 'placeholder'].includes(name)) yield value;
  for (const child of node.childNodes ?? []) yield* piecesUnder(child);
}

const ofPage = (html: string) => [...piecesUnder(parse(html) as unknown as Node)];
const ofMail = (mail: Parameters<typeof plainMail>[0]) => [mail.subject, ...plainMail(mail).split('\n')];

async function ofPaper(t: TestApp, path: string): Promise<string[]> {
  const { status, body } = await t.owner.bytes(path);
  expect([path, status]).toEqual([path, 200]);
  const read = await readPdf(body);
  return [read.title ?? '', ...read.pages.flatMap((page) => page.lines)];
}

/** Pages a customer opens, in every state an order can be in, and what comes back of a form that was filled in wrongly. */
async function pagesFor(t: TestApp, language: Language, speciesId: number): Promise<[string, string[]][]> {
  const said: [string, string[]][] = [];
  const customer = makeCustomer(t.db, {
    name: 'Qora Qexner',
    street: 'Qexlane 1',
    city: 'Qextown',
    language,
  });
  const heard = { 'Accept-Language': language };
  for (const state of ['draft', 'confirmed', 'packed', 'sent', 'closed', 'cancelled'] as const) {
    const left = state === 'sent' || state === 'closed' ? { sentOn: '2026-11-24', tracking: 'XY 12' } : {};
    const order = makeOrder(t.db, { state, dispatchOn: '2026-11-30', customerId: customer.id, ...left });
    makeLine(t.db, order.id, speciesId);
    ensureLink(t.db, order, { personId: cast.owner.id, now: testNow });
    const path = addressOfOrder(t.db, order.id, { base: '', now: testNow }) ?? '';
    said.push([`order ${state}`, ofPage((await t.outsider.get(path, heard)).text)]);
    if (state !== 'sent') continue;
    const wrong = await t.outsider.upload(path, [], { all: 'some', 'dead-1': 'many' });
    said.push(['report filled in wrongly', ofPage(wrong.text)]);
    await t.outsider.upload(path, [], { all: 'well' });
    said.push(['report sent', ofPage((await t.outsider.get(path, heard)).text)]);
  }
  said.push(['no such order', ofPage((await t.outsider.get(`/o/${'a'.repeat(43)}`, heard)).text)]);
  const list = `/available?lang=${language}`;
  said.push(['availability list', ofPage((await t.outsider.get(list)).text)]);
  said.push([
    'request filled in wrongly',
    ofPage((await t.outsider.post(list, { name: '', email: 'x' })).text),
  ]);
  said.push(['request sent', ofPage((await t.outsider.get(`${list}&sent=yes`)).text)]);
  return said;
}

function mailsFor(language: Language): [string, string[]][] {
  const speaker = speakerFor({ language, locale: { en: 'en-GB', de: 'de-DE', es: 'es-ES' }[language] });
  const sender = { name: 'Test Bench', address: 'Qexlane 1', email: 'bench@example.org' };
  const about = { number: 7, customerName: 'Qora Qexner', sender };
  const one = { groups: 2, groupAdults: 10, groupJuveniles: 2, scientificName: 'Exemplum', commonName: '' };
  const money = { totalMinor: 1250, currency: 'EUR' };
  const parcel = { sentOn: '2026-11-24', tracking: 'XY 12', trackingLink: 'https://example.org/12' };
  return [
    ['confirmed', write.confirmedMail(speaker, { ...about, ...money, lines: [one], leavesOn: '2026-11-30' })],
    ['confirmed, no day', write.confirmedMail(speaker, { ...about, ...money, lines: [one], leavesOn: null })],
    ['sent', write.sentMail(speaker, { ...about, ...parcel, withCareSheets: true })],
    ['held', write.heldMail(speaker, { ...about, leavesOn: '2026-11-30' })],
    ['held, no day', write.heldMail(speaker, { ...about, leavesOn: null })],
    ['test', write.testMail(speaker, sender)],
    ['disk', write.diskMail(speaker, 200)],
    ['requests', write.requestsMail(speaker, 2, 'https://example.org/requests')],
    ['backup', write.backupMail(speaker, { provenOn: '2026-11-24', why: null })],
  ].map(([name, mail]) => [`mail ${name}`, ofMail(mail as write.Sender & Parameters<typeof plainMail>[0])]);
}

/** Sheets in the box and the invoice of an order, made as the owner makes them. */
async function papersFor(t: TestApp, language: Language, speciesId: number): Promise<[string, string[]][]> {
  const customer = makeCustomer(t.db, {
    name: 'Qora Qexner',
    street: 'Qexlane 1',
    city: 'Qextown',
    language,
  });
  const order = makeOrder(t.db, {
    state: 'draft',
    dispatchOn: '2026-11-30',
    postageMinor: 500,
    customerId: customer.id,
  });
  const line = makeLine(t.db, order.id, speciesId);
  const at = `/orders/${order.number}`;
  await t.owner.post(`${at}/reserve`, { [`groups-${line.id}-1`]: 1 });
  await t.owner.post(`${at}/confirm`);
  const page = (await t.owner.get(`${at}/invoice`)).text;
  const form = formsOn(page, `${at}/invoice`).find(({ action }) => action === `${at}/invoice`);
  const { _csrf, formKey, ...fields } = form?.untouched ?? {};
  const made = await t.owner.post(`${at}/invoice`, fields);
  const invoice = /\/invoices\/\d+/.exec(String(made.headers.location))?.[0];
  expect([at, made.status, invoice]).toEqual([at, 303, expect.stringContaining('/invoices/')]);
  return [
    ['care sheets', await ofPaper(t, `${at}/care-sheets.pdf`)],
    ['invoice', await ofPaper(t, `${invoice}/invoice.pdf`)],
    ['list on paper', await ofPaper(t, `/offers/list.pdf?lang=${language}`)],
  ];
}

const said = new Map<Language, Map<string, string[]>>();

beforeAll(async () => {
  const t = await testApp();
  t.db.update(business).set({ address: 'Qexlane 1\nQextown' }).run();
  saveOfferSettings(t.db, { ...firstOfferSettings, isOn: true });
  const described = describedSpecies(t.db);
  // One word: on paper, a line may end between two.
  t.db.update(speciesTable).set({ commonName: 'qexopod' }).run();
  t.db.update(speciesCare).set({ text: 'qexwords' }).run();
  makeCounted(t.db, described.id, 400);
  for (const language of languages) {
    const all = [
      ...(await pagesFor(t, language, described.id)),
      ...mailsFor(language),
      ...(await papersFor(t, language, described.id)),
    ];
    said.set(language, new Map(all.map(([name, pieces]) => [name, pieces.map(tidy).filter(isOurs)])));
  }
}, 120_000);

describe.each(['de', 'es'] as const)('what customers who read %s get', (language) => {
  it('says nothing in the words of the English paper', () => {
    const english = new Set([...(said.get('en')?.values() ?? [])].flat());
    expect(english.size).toBeGreaterThan(150);
    const left = [...(said.get(language) ?? [])].flatMap(([name, pieces]) =>
      pieces.filter((piece) => english.has(piece)).map((piece) => `${name}: ${piece}`),
    );
    expect(left).toEqual([]);
  });
});
