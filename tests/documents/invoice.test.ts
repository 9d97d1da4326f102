import { describe, expect, it } from 'vitest';
import { invoicePaper } from '../../views/documents/invoice.ts';
import type { InvoiceDoc, Receipt } from '../../views/documents/invoice-data.ts';
import { expectTidy } from './on-paper.ts';
import { nodesOf, readPdf } from './read-pdf.ts';
import { options } from './sample-orders.ts';

const doc: InvoiceDoc = {
  number: 'RE-0042',
  kind: 'invoice',
  orderNumber: 12,
  currency: 'EUR',
  issuedOn: '2026-11-25',
  suppliedOn: '2026-11-24',
  dueOn: '2026-12-09',
  seller: {
    name: 'Fernhollow Invertebrates',
    address: '4 Example Yard\nExampleton',
    email: 'bench@example.org',
    taxNumber: 'DE000000000',
  },
  payWords: 'Please pay to the account on our site.',
  exemptWords: '',
  reason: '',
  buyer: { name: 'Nguyễn Thị Ánh', address: '2 Example Road\n12345 Exampletown\nGermany', country: 'DE' },
  credits: null,
  lines: [
    {
      kind: 'goods',
      words: 'rough woodlouse',
      scientificName: 'Porcellio scaber',
      detail: 'each of 10 adults, 2 juveniles',
      quantity: 2,
      priceMinor: 1250,
      totalMinor: 2500,
    },
    {
      kind: 'carriage',
      words: 'Postage and packing',
      scientificName: '',
      detail: '',
      quantity: 1,
      priceMinor: 500,
      totalMinor: 500,
    },
  ],
  taxes: [{ name: 'VAT', rateThousandths: 19_000, mode: 'included', baseMinor: 2521, taxMinor: 479 }],
  netMinor: 2521,
  taxMinor: 479,
  totalMinor: 3000,
};

const print = async (one: InvoiceDoc, more: Partial<typeof options> = {}, receipt: Receipt | null = null) => {
  const printed = await invoicePaper(one, { ...options, ...more }, receipt);
  const read = await readPdf(printed.pdf);
  return { ...printed, read, words: read.words.replaceAll('\u00a0', ' ') };
};

describe('an invoice on paper', () => {
  it('says who charges whom, what, of which day, and what it comes to', async () => {
    const { words, read, warnings } = await print(doc);
    for (const said of [
      'Fernhollow Invertebrates',
      'Tax number: DE000000000',
      'Invoice RE-0042',
      'Nguyễn Thị Ánh',
      'Wed 25 Nov 2026',
      'Tue 24 Nov 2026',
      'rough woodlouse Porcellio scaber, each of 10 adults, 2 juveniles',
      '€12.50',
      '€25.00',
      'Total €30.00',
      'of that VAT 19 % on €25.21 €4.79',
      'Please pay to the account on our site.',
      'page 1 of 1',
    ])
      expect(words).toContain(said);
    expect(warnings).toEqual([]);
    expect(read.title).toBe('Invoice RE-0042');
    expectTidy(read);
  });

  it('is tagged: tables with their heads, the title a heading', async () => {
    const { read } = await print(doc);
    const roles = nodesOf(read.pages[0]!.tree).map((node) => node.role);
    expect(read.marked).toBe(true);
    expect(roles.filter((role) => role === 'Table')).toHaveLength(3);
    expect(roles.filter((role) => role === 'H1')).toHaveLength(1);
    expect(roles.filter((role) => role === 'TH').length).toBeGreaterThan(8);
  });

  it('is in the customer’s language, with taxes that are added in front of the total', async () => {
    const added = { ...doc, taxes: [{ ...doc.taxes[0]!, mode: 'added' as const }], totalMinor: 3479 };
    const german = await print(added, { language: 'de', locale: 'de-AT' });
    expect(german.words).toContain('Rechnung RE-0042');
    expect(german.words).toMatch(/Ohne Steuer .*25,21 VAT 19 % auf .*25,21 .*4,79 Gesamtbetrag .*34,79/);
    expect(german.read.language).toBe('de-AT');
    expect((await print(doc, { language: 'es', locale: 'es-ES' })).words).toContain('Factura RE-0042');
  });

  it('carries the sentence of those who charge no tax', async () => {
    const exemptWords = 'Kein Ausweis von Umsatzsteuer.';
    const { words } = await print({ ...doc, taxes: [], netMinor: 3000, taxMinor: 0, exemptWords });
    expect(words).toContain(exemptWords);
    expect(words).not.toMatch(/VAT|Without tax/);
  });

  it('as a credit note names the invoice and the reason; without a person it says so', async () => {
    const credit = {
      ...doc,
      kind: 'credit' as const,
      number: 'RE-0043',
      dueOn: null,
      reason: 'two arrived dead',
      credits: { number: 'RE-0042', issuedOn: '2026-11-25' },
      totalMinor: -3000,
      buyer: null,
    };
    const { words } = await print(credit);
    for (const said of [
      'Credit note RE-0043',
      'For invoice RE-0042 of Wed 25 Nov 2026',
      'two arrived dead',
      '-€30.00',
    ])
      expect(words).toContain(said);
    expect(words).toContain('has been erased');
    expect(words).not.toContain('Please pay');
  });

  it('as a receipt tells by what and when it was paid, and what is left', async () => {
    const receipt: Receipt = {
      credits: [{ number: 'RE-0043', issuedOn: '2026-11-27', amountMinor: 500 }],
      payments: [
        { paidOn: '2026-11-26', way: 'Bank transfer', kind: 'payment', amountMinor: 2000 },
        { paidOn: '2026-11-28', way: 'Cash', kind: 'refund', amountMinor: 100 },
      ],
      openMinor: 600,
      overMinor: 0,
    };
    const { words } = await print(doc, {}, receipt);
    expect(words).toContain('Receipt for invoice RE-0042');
    expect(words).toMatch(/Thu 26 Nov 2026 Bank transfer €20\.00 Fri 27 Nov 2026 Credit note RE-0043 €5\.00/);
    expect(words).toMatch(/Cash, paid back -€1\.00 Still to be paid €6\.00/);
    const settled = await print(doc, {}, { ...receipt, openMinor: 0 });
    expect(settled.words).toContain('Nothing is left to be paid.');
  });

  it('goes on over pages when it is long, on either paper, in any script', async () => {
    const line = { ...doc.lines[0]!, words: 'ワラジムシ', detail: 'each of 10 adults' };
    const long = {
      ...doc,
      buyer: { name: 'محمد الأمثلة', address: 'שדרות הדוגמה 4\n東京都例町', country: 'JP' },
      lines: Array.from({ length: 60 }, () => line),
    };
    for (const paper of ['A4', 'Letter'] as const) {
      const { read, warnings } = await print(long, { paper });
      expect(read.pages.length).toBeGreaterThan(1);
      expect(warnings).toEqual([]);
      expectTidy(read);
    }
  });
});
