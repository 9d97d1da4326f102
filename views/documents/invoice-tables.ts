import { framed, paragraph, row, stack } from './blocks.ts';
import { type Element, element } from './drawing.ts';
import type { Slab } from './flow.ts';
import type { InvoiceDoc, InvoiceDocLine, InvoiceDocTax, Receipt } from './invoice-data.ts';
import { type Desk, INVOICE } from './invoice-style.ts';
import type { Piece, TextStyle } from './lines.ts';
import { HAIRLINE, mm, RULE } from './paper.ts';

type Cell = { pieces: Piece[]; xPt: number; widthPt: number; right?: boolean };
type RowKind = { tag: 'TH' | 'TD'; heads?: 'Column'; stroke: number; gapPt?: number };

const words = (text: string, style: TextStyle): Piece[] => [{ text, style }];

/** One row under a line; its first cell names it. */
function tableRow(desk: Desk, table: Element, cells: Cell[], kind: RowKind): Slab {
  const entry = element('TR', table);
  const columns = cells.map(({ pieces, xPt, widthPt, right }, index) => {
    const isHead = kind.tag === 'TH' || index === 0;
    const cell = isHead ? element('TH', entry, { scope: kind.heads ?? 'Row' }) : element('TD', entry);
    const slabs = paragraph(
      pieces,
      widthPt,
      element('P', cell),
      desk.warnings,
      right ? { align: 'right' } : {},
    );
    return { xPt, content: stack(slabs) };
  });
  return framed(
    row(columns),
    desk.widthPt,
    { padPt: 4, padXPt: 0, stroke: { widthPt: kind.stroke }, sides: 'top' },
    { gapPt: kind.gapPt ?? 0 },
  );
}

/** Where the four columns stand. */
function columnsOf(widthPt: number) {
  const [amountPt, pricePt, countPt] = [widthPt * 0.18, widthPt * 0.18, widthPt * 0.12];
  const gap = mm(3);
  const whatPt = widthPt - amountPt - pricePt - countPt;
  return {
    what: { xPt: 0, widthPt: whatPt - gap },
    count: { xPt: whatPt, widthPt: countPt - gap, right: true },
    price: { xPt: whatPt + countPt, widthPt: pricePt - gap, right: true },
    amount: { xPt: whatPt + countPt + pricePt, widthPt: amountPt, right: true },
  };
}

function whatOf({ words: name, scientificName, detail }: InvoiceDocLine): Piece[] {
  const rest = detail === '' ? '' : `, ${detail}`;
  return [
    { text: scientificName === '' || name === '' ? name : `${name} `, style: INVOICE.strong },
    { text: scientificName, style: INVOICE.latin },
    { text: rest, style: INVOICE.body },
  ].filter((piece) => piece.text !== '');
}

/** What is charged, line by line. */
export function lineTable(desk: Desk, doc: InvoiceDoc, parent: Element): Slab[] {
  const { say, currency } = desk;
  const at = columnsOf(desk.widthPt);
  const table = element('Table', parent);
  const money = (minor: number) => words(say.money(minor, currency), INVOICE.figure);
  const heads = [
    { ...at.what, pieces: words(say.say('invoice.what'), INVOICE.label) },
    { ...at.count, pieces: words(say.say('invoice.quantity'), INVOICE.label) },
    { ...at.price, pieces: words(say.say('invoice.price'), INVOICE.label) },
    { ...at.amount, pieces: words(say.say('invoice.amount'), INVOICE.label) },
  ];
  const head = tableRow(desk, table, heads, { tag: 'TH', heads: 'Column', stroke: RULE, gapPt: mm(8) });
  const rows = doc.lines.map((line) => {
    const isOne = line.kind === 'carriage' || line.scientificName === '';
    const counted = isOne ? [] : words(say.number(line.quantity), INVOICE.figure);
    const priced = isOne ? [] : money(line.priceMinor);
    const cells: Cell[] = [
      { ...at.what, pieces: whatOf(line) },
      { ...at.count, pieces: counted },
      { ...at.price, pieces: priced },
      { ...at.amount, pieces: money(line.totalMinor) },
    ];
    return tableRow(desk, table, cells, { tag: 'TD', stroke: HAIRLINE });
  });
  return [{ ...head, keepWithNext: true }, ...rows];
}

function taxWords({ say, currency }: Desk, tax: InvoiceDocTax): string {
  const slots = {
    name: tax.name,
    rate: say.number(tax.rateThousandths / 1000, 3),
    base: say.money(tax.baseMinor, currency),
  };
  return tax.mode === 'included' ? say.say('invoice.taxHeld', slots) : say.say('invoice.tax', slots);
}

/** The sum, and its taxes: those that are added before it, those that the prices hold after it. */
export function totals(desk: Desk, doc: InvoiceDoc, parent: Element): Slab[] {
  const { say, currency } = desk;
  const at = columnsOf(desk.widthPt);
  const table = element('Table', parent);
  const label = { xPt: 0, widthPt: at.amount.xPt - mm(3), right: true };
  const line = (text: string, minor: number, style: TextStyle, stroke: number, gapPt = 0): Slab =>
    tableRow(
      desk,
      table,
      [
        { ...label, pieces: words(text, style) },
        { ...at.amount, pieces: words(say.money(minor, currency), style) },
      ],
      { tag: 'TD', stroke, gapPt },
    );
  const rows = (mode: 'included' | 'added') =>
    doc.taxes
      .filter((tax) => tax.mode === mode)
      .map((tax) => line(taxWords(desk, tax), tax.taxMinor, INVOICE.figure, HAIRLINE));
  const total = say.say(doc.kind === 'credit' ? 'invoice.totalBack' : 'invoice.total');
  const net =
    doc.taxes.length > 0 ? [line(say.say('invoice.net'), doc.netMinor, INVOICE.figure, HAIRLINE)] : [];
  const isAdded = doc.taxes.some(({ mode }) => mode === 'added');
  const sum = line(total, doc.totalMinor, INVOICE.sum, RULE);
  const slabs = isAdded
    ? [...net, ...rows('added'), sum, ...rows('included')]
    : [sum, ...rows('included'), ...net];
  return slabs.map((slab, index) => ({ ...slab, keepWithNext: index < slabs.length - 1 }));
}

/** Credit notes and payments in the order of their days: each as its day, what it was, and its amount. */
function entriesOf({ say }: Desk, { credits, payments }: Receipt): [string, string, number][] {
  const taken = credits.map(({ issuedOn, number, amountMinor }): [string, string, number] => [
    issuedOn,
    say.say('invoice.credit', { number }),
    amountMinor,
  ]);
  const paid = payments.map(({ paidOn, way, kind, amountMinor }): [string, string, number] =>
    kind === 'refund'
      ? [paidOn, say.say('invoice.paidBack', { way }), -amountMinor]
      : [paidOn, way, amountMinor],
  );
  return [...taken, ...paid].sort(([one], [other]) => (one < other ? -1 : Number(one > other)));
}

/** What is left to be paid, or was paid too much. */
function restRows(desk: Desk, { openMinor, overMinor }: Receipt, table: Element): Slab[] {
  const { say, currency, widthPt } = desk;
  const { amount } = columnsOf(widthPt);
  const rest: [string, number][] = [
    [say.say('invoice.open'), openMinor],
    [say.say('invoice.over'), overMinor],
  ];
  return rest
    .filter(([, minor]) => minor > 0)
    .map(([text, minor]) => {
      const label = { xPt: 0, widthPt: amount.xPt - mm(3), right: true, pieces: words(text, INVOICE.strong) };
      const sum = { ...amount, pieces: words(say.money(minor, currency), INVOICE.sum) };
      return tableRow(desk, table, [label, sum], { tag: 'TD', stroke: RULE });
    });
}

/** What was paid, by what and when, and what is left. */
export function paymentTable(desk: Desk, receipt: Receipt, parent: Element): Slab[] {
  const { say, currency, widthPt } = desk;
  const { amount } = columnsOf(widthPt);
  const title = paragraph(
    words(say.say('invoice.payments'), INVOICE.heading),
    widthPt,
    element('H2', parent),
    desk.warnings,
    { gapPt: mm(8), keepWithNext: true },
  );
  const table = element('Table', parent);
  const dayPt = widthPt * 0.3;
  const day = { xPt: 0, widthPt: dayPt - mm(3) };
  const way = { xPt: dayPt, widthPt: amount.xPt - dayPt - mm(3) };
  const head = tableRow(
    desk,
    table,
    [
      { ...day, pieces: words(say.say('invoice.day'), INVOICE.label) },
      { ...way, pieces: words(say.say('invoice.way'), INVOICE.label) },
      { ...amount, pieces: words(say.say('invoice.amount'), INVOICE.label) },
    ],
    { tag: 'TH', heads: 'Column', stroke: RULE, gapPt: 4 },
  );
  const rows = entriesOf(desk, receipt).map(([on, what, minor]) => {
    const cells: Cell[] = [
      { ...day, pieces: words(say.day(on, 'short'), INVOICE.body) },
      { ...way, pieces: words(what, INVOICE.body) },
      { ...amount, pieces: words(say.money(minor, currency), INVOICE.figure) },
    ];
    return tableRow(desk, table, cells, { tag: 'TD', stroke: HAIRLINE });
  });
  return [...title, { ...head, keepWithNext: true }, ...rows, ...restRows(desk, receipt, table)];
}
