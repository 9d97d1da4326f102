import { speakerFor } from '../words/speaker.ts';
import { paragraph } from './blocks.ts';
import { Warnings } from './characters.ts';
import { type Element, element } from './drawing.ts';
import { flow, type Slab } from './flow.ts';
import type { InvoiceDoc, Receipt } from './invoice-data.ts';
import { invoiceHead } from './invoice-head.ts';
import { type Desk, INVOICE } from './invoice-style.ts';
import { lineTable, paymentTable, totals } from './invoice-tables.ts';
import { footMarks, frameOf } from './page-frame.ts';
import { paperOf } from './paper.ts';
import { printPages } from './print.ts';
import { type Printed, type PrintOptions, wordsLang } from './print-options.ts';

function titleOf({ say }: Desk, doc: InvoiceDoc, receipt: Receipt | null): string {
  if (receipt) return say.say('invoice.receipt', { number: doc.number });
  return say.say(`invoice.${doc.kind}`, { number: doc.number });
}

/** What stands under the figures: why no tax is charged, how to pay, why something is given back. */
function closing(desk: Desk, doc: InvoiceDoc, receipt: Receipt | null, parent: Element): Slab[] {
  const words = [
    doc.exemptWords,
    doc.kind === 'credit' && doc.reason !== '' ? desk.say.say('invoice.reason', { reason: doc.reason }) : '',
    doc.kind === 'invoice' && !receipt ? doc.payWords : '',
    receipt && receipt.openMinor === 0 && receipt.overMinor === 0 ? desk.say.say('invoice.settled') : '',
  ].filter((text) => text !== '');
  return words.flatMap((text) =>
    paragraph([{ text, style: INVOICE.body }], desk.widthPt, element('P', parent), desk.warnings, {
      gapPt: 12,
    }),
  );
}

/**
 * An invoice or a credit note as it was written; with `receipt` what was paid on it too. The words are in the language
 * of the document, which the options name. Warnings name what could not be printed as given.
 */
export async function invoicePaper(
  doc: InvoiceDoc,
  options: PrintOptions,
  receipt: Receipt | null = null,
): Promise<Printed> {
  const warnings = new Warnings();
  const paper = paperOf(options.paper);
  const root = element('Document', null);
  const frame = frameOf(paper);
  const say = speakerFor(options);
  const desk: Desk = { say, widthPt: frame.widthPt, warnings, currency: doc.currency };
  const section = element('Sect', root);
  const title = titleOf(desk, doc, receipt);
  const slabs = [
    ...invoiceHead(desk, doc, title, section),
    ...lineTable(desk, doc, section),
    ...totals(desk, doc, section),
    ...(receipt ? paymentTable(desk, receipt, section) : []),
    ...closing(desk, doc, receipt, section),
  ];
  const laid = flow(slabs, () => frame);
  const hasGaps = warnings.unprintable > 0;
  const pages = laid.map((placed, index) => ({
    placed: [
      ...placed,
      ...footMarks(
        paper,
        {
          what: title,
          whom: doc.buyer ? say.say('paper.whom', { name: doc.buyer.name }) : '',
          country: doc.buyer?.country,
          when: say.day(doc.issuedOn, 'short'),
          page: say.say('paper.page', { page: String(index + 1), pages: String(laid.length) }),
          overall: '',
          source: [doc.seller.name, doc.seller.taxNumber].filter(Boolean).join(', '),
          hasGaps,
          speaker: say,
        },
        warnings,
      ),
    ],
    ...(index === 0 ? { bookmark: title } : {}),
  }));
  const pdf = await printPages(pages, root, paper, {
    title,
    author: doc.seller.name,
    lang: wordsLang(options),
    createdAt: options.createdAt,
  });
  return { pdf, warnings: warnings.list };
}
