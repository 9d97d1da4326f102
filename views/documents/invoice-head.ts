import { paragraph, row, stack } from './blocks.ts';
import { type Element, element } from './drawing.ts';
import type { Slab } from './flow.ts';
import type { InvoiceDoc } from './invoice-data.ts';
import { type Desk, INVOICE } from './invoice-style.ts';
import { inCountry, type TextStyle } from './lines.ts';
import { mm } from './paper.ts';

type Block = { desk: Desk; widthPt: number; parent: Element };

const text = ({ desk, widthPt, parent }: Block, words: string, style: TextStyle, country?: string): Slab[] =>
  words === ''
    ? []
    : paragraph([inCountry({ text: words, style }, country)], widthPt, element('P', parent), desk.warnings);

function seller(block: Block, { seller: { name, address, email, taxNumber } }: InvoiceDoc): Slab {
  const tax = taxNumber === '' ? '' : block.desk.say.say('invoice.taxNumber', { number: taxNumber });
  return stack([
    ...text(block, name, INVOICE.heading),
    ...text(block, address, INVOICE.body),
    ...text(block, email, INVOICE.body),
    ...text(block, tax, INVOICE.body),
  ]);
}

function buyer(block: Block, { buyer: to }: InvoiceDoc): Slab {
  const { say } = block.desk;
  const label = text(block, say.say('invoice.to'), INVOICE.label);
  if (!to) return stack([...label, ...text(block, say.say('invoice.erased'), INVOICE.body)]);
  return stack([
    ...label,
    ...text(block, to.name, INVOICE.strong, to.country),
    ...text(block, to.address, INVOICE.body, to.country),
  ]);
}

/** The days and numbers, a term and its value on each line. */
function facts(block: Block, doc: InvoiceDoc): Slab {
  const { say, warnings } = block.desk;
  const termPt = block.widthPt * 0.5;
  const rows: [string, string][] = [
    [say.say('invoice.date'), say.day(doc.issuedOn, 'short')],
    [say.say('invoice.supplied'), say.day(doc.suppliedOn, 'short')],
    ...(doc.dueOn === null
      ? []
      : [[say.say('invoice.due'), say.day(doc.dueOn, 'short')] satisfies [string, string]]),
    [say.say('invoice.order'), String(doc.orderNumber)],
  ];
  const table = element('Table', block.parent);
  return stack(
    rows.map(([term, value]) => {
      const entry = element('TR', table);
      const head = element('P', element('TH', entry, { scope: 'Row' }));
      const cell = element('P', element('TD', entry));
      return row([
        {
          xPt: 0,
          content: stack(paragraph([{ text: term, style: INVOICE.body }], termPt - mm(2), head, warnings)),
        },
        {
          xPt: termPt,
          content: stack(
            paragraph([{ text: value, style: INVOICE.strong }], block.widthPt - termPt, cell, warnings),
          ),
        },
      ]);
    }),
  );
}

/** Who writes to whom, what it is and of which days. */
export function invoiceHead(desk: Desk, doc: InvoiceDoc, title: string, parent: Element): Slab[] {
  const leftPt = desk.widthPt * 0.48;
  const rightPt = desk.widthPt - leftPt - mm(6);
  const heading = paragraph(
    [{ text: title, style: INVOICE.title }],
    desk.widthPt,
    element('H1', parent),
    desk.warnings,
  );
  const from = { desk, widthPt: desk.widthPt, parent };
  const left = { desk, widthPt: leftPt, parent };
  const right = { desk, widthPt: rightPt, parent };
  const credits = doc.credits
    ? desk.say.say('invoice.creditsOf', {
        number: doc.credits.number,
        day: desk.say.day(doc.credits.issuedOn, 'short'),
      })
    : '';
  const spaced = (slab: Slab, gapPt: number): Slab => ({ ...slab, gapPt });
  const [first, ...rest] = heading;
  return [
    seller(from, doc),
    ...(first ? [spaced(first, mm(10)), ...rest] : []),
    ...text(from, credits, INVOICE.strong),
    row(
      [
        { xPt: 0, content: buyer(left, doc) },
        { xPt: leftPt + mm(6), content: facts(right, doc) },
      ],
      { gapPt: mm(6) },
    ),
  ];
}
