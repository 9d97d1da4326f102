import { framed, paragraph, row, stack } from './blocks.ts';
import type { Warnings } from './characters.ts';
import { dayWords } from './day-words.ts';
import { type Element, element } from './drawing.ts';
import type { Slab } from './flow.ts';
import { inCountry, type Piece, shrinkToLine } from './lines.ts';
import { qrSlab } from './marks.ts';
import type { PackingSheetData } from './packing-sheet-data.ts';
import { counted, words } from './packing-style.ts';
import { totalsOf } from './packing-totals.ts';
import { mm, RULE } from './paper.ts';

/** The label at the top of an order: number, day, address, totals, and the code that opens the order's page. */
export function packingHead(
  order: PackingSheetData,
  widthPt: number,
  locale: string,
  parent: Element,
  warnings: Warnings,
): Slab[] {
  const padPt = mm(4);
  const figure = element('Figure', null, {
    alt: `QR code: opens order ${order.orderNumber}, ${order.orderUrl}`,
  });
  const code = qrSlab(order.orderUrl, figure);
  const sidePt = Math.max(code.widthPt, mm(42));
  const textPt = widthPt - 2 * padPt - sidePt - mm(4);
  const slabs = headText(order, textPt, locale, parent, warnings);
  parent.children.push(figure);
  const address = order.orderUrl.replace(/^https?:\/\//, '');
  const url = paragraph([words(address, 'label')], sidePt, element('P', parent), warnings, {
    align: 'centre',
  });
  const content = row([
    { xPt: padPt, content: stack(slabs) },
    {
      xPt: widthPt - padPt - sidePt,
      content: stack([row([{ xPt: (sidePt - code.widthPt) / 2, content: code }]), ...url]),
    },
  ]);
  const stroke = { widthPt: RULE * 1.6 };
  return [framed(content, widthPt, { padPt, padXPt: 0, stroke, sides: 'all', innerPt: 2.6 })];
}

function headText(
  order: PackingSheetData,
  widthPt: number,
  locale: string,
  parent: Element,
  warnings: Warnings,
): Slab[] {
  const heading = element('H1', parent);
  const number = shrinkToLine([words(order.orderNumber, 'order')], widthPt, 0.45, warnings);
  const day = order.dispatchOn === null ? 'no day set' : dayWords(order.dispatchOn, locale);
  const totals = totalsOf(order.picks);
  const text = (pieces: Piece[], gapPt: number) =>
    paragraph(pieces, widthPt, element('P', parent), warnings, { gapPt });
  return [
    ...paragraph([words('Packing sheet\n', 'body'), ...number], widthPt, heading, warnings),
    ...text([words(order.dispatchBy === null ? 'Dispatch ' : 'Leaves by ', 'label'), ...when(order, day)], 5),
    ...(order.parcel?.isHeld ? text([words('Held for pickup at the counter', 'place')], 2) : []),
    ...text([inCountry(words(order.customerName, 'place'), order.country)], 8),
    ...text([inCountry(words(order.addressLines.join('\n'), 'body'), order.country)], 0),
    ...text(
      [
        words(
          `${counted(totals.cups, 'cup', 'cups')}, ${counted(totals.animals, 'animal', 'animals')}`,
          'strong',
        ),
      ],
      8,
    ),
  ];
}

/** The time in large figures, then the day. */
function when({ dispatchBy }: PackingSheetData, day: string): Piece[] {
  return dispatchBy === null
    ? [words(day, 'place')]
    : [words(dispatchBy, 'figure'), words(` ${day}`, 'place')];
}
