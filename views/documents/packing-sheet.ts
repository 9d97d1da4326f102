import { speakerFor } from '../words/speaker.ts';
import { type BenchList, benchPages } from './bench-list.ts';
import { paragraph } from './blocks.ts';
import { Warnings } from './characters.ts';
import { dayWords } from './day-words.ts';
import { type Element, element, lineMarks, type Placed } from './drawing.ts';
import { flow, type Slab } from './flow.ts';
import { wrap } from './lines.ts';
import { benchCautions, benchForm, signatures } from './packing-bench.ts';
import { boxAndPack } from './packing-box.ts';
import { cupsAndPadding } from './packing-cups.ts';
import { insideTemperature } from './packing-curve.ts';
import { packingHead } from './packing-head.ts';
import { customsLines, rulesToMind, weights } from './packing-papers.ts';
import { pickList } from './packing-picks.ts';
import type { PackingSheetData } from './packing-sheet-data.ts';
import { overrideList, speciesLimits } from './packing-species.ts';
import { BENCH, words } from './packing-style.ts';
import { clipped, footMarks, frameOf } from './page-frame.ts';
import { type Paper, paperOf } from './paper.ts';
import { PdfWriter, type PrintPage, type Sink } from './print.ts';
import { type PrintOptions, wordsLang } from './print-options.ts';

/** Head of the second and further pages of an order. */
const RUNNING_HEAD_PT = 26;

interface Laid {
  order: PackingSheetData;
  part: Element;
  pages: Placed[][];
  hasGaps: boolean;
}

/**
 * Packing sheets for one or more orders in one PDF, behind the bench list of their day where there is one. Each order
 * begins on a new page and counts its own pages; with several orders every page also says where it is in the whole print.
 * Each order is set twice, once to count its pages and once to print them, and then forgotten: memory does not grow with
 * the number of orders. Returns warnings: they name what could not be printed as given.
 */
export async function writePackingSheets(
  orders: readonly PackingSheetData[],
  options: PrintOptions,
  bench: BenchList | null,
  sink: Sink,
): Promise<string[]> {
  const warnings = new Warnings();
  const paper = paperOf(options.paper);
  const many = orders.length > 1 || bench !== null;
  const counts = many
    ? orders.map((order) => layOut(order, paper, options, new Warnings()).pages.length)
    : [];
  const front = bench ? benchPages(bench, paper, options, warnings) : null;
  const total = counts.reduce((sum, count) => sum + count, front?.pages.length ?? 0);
  const writer = new PdfWriter(paper, metaOf(orders, bench, options), sink);
  const overall = (sheet: number) => (many ? `sheet ${sheet} of ${total} in this print` : '');
  let before = 0;
  if (front) {
    writer.part(front.furnished(overall), [front.part]);
    before += front.pages.length;
  }
  for (const order of orders) {
    const laid = layOut(order, paper, options, warnings);
    const from = before;
    writer.part(
      withFurniture(laid, (page) => overall(from + page), paper, options, warnings),
      [laid.part],
    );
    before += laid.pages.length;
    // a breath, so that what was written can go out before the next order is set
    await new Promise(setImmediate);
  }
  if (before === 0) {
    const root = element('Document', null);
    writer.part([emptyPage(paper, root, warnings)], root.children);
  }
  await writer.end();
  return warnings.list;
}

const metaOf = (orders: readonly PackingSheetData[], bench: BenchList | null, options: PrintOptions) => ({
  title: bench ? `Packing day ${dayWords(bench.day, options.locale)}` : titleOf(orders),
  author: options.businessName,
  lang: wordsLang(options),
  createdAt: options.createdAt,
});

function titleOf(orders: readonly PackingSheetData[]): string {
  const numbers = orders.map((order) => order.orderNumber);
  return `Packing sheet${orders.length === 1 ? '' : 's'}, order${orders.length === 1 ? '' : 's'} ${numbers.join(', ')}`;
}

function layOut(order: PackingSheetData, paper: Paper, options: PrintOptions, warnings: Warnings): Laid {
  const before = warnings.unprintable;
  const part = element('Sect', null);
  const { widthPt } = frameOf(paper);
  const slabs: Slab[] = [
    ...packingHead(order, widthPt, options.locale, part, warnings),
    ...noteSlabs(order.note, widthPt, part, warnings),
    ...overrideList(overridesOf(order), widthPt, options, part, warnings),
    ...pickList(order.picks, widthPt, part, warnings),
    ...cupsAndPadding(order.cups, widthPt, part, warnings),
    ...(order.parcel
      ? [
          ...boxAndPack(order.parcel, widthPt, options, part, warnings),
          ...insideTemperature(order.parcel, widthPt, options, part, warnings),
        ]
      : benchForm(widthPt, options, part, warnings)),
    ...speciesLimits(order.species, widthPt, options, part, warnings),
    ...rulesToMind(order.rules, widthPt, options, part, warnings),
    ...weights(order.weight, widthPt, options, part, warnings),
    ...customsLines(order.customs, widthPt, part, warnings),
    ...benchCautions(widthPt, part, warnings),
    signatures(widthPt, part, warnings),
  ];
  const pages = flow(slabs, (page) => frameOf(paper, page === 0 ? 0 : RUNNING_HEAD_PT));
  return { order, part, pages, hasGaps: warnings.unprintable > before };
}

/** What was decided against the calculation, the parcel's own first. */
const overridesOf = ({ parcel, overrides }: PackingSheetData) =>
  parcel?.override ? [parcel.override, ...overrides] : overrides;

function noteSlabs(note: string, widthPt: number, parent: Element, warnings: Warnings): Slab[] {
  if (note.trim() === '') return [];
  const heading = paragraph([words('Note', 'heading')], widthPt, element('H2', parent), warnings, {
    gapPt: 12,
    keepWithNext: true,
  });
  return [...heading, ...paragraph([words(note, 'body')], widthPt, element('P', parent), warnings)];
}

function withFurniture(
  laid: Laid,
  overall: (page: number) => string,
  paper: Paper,
  options: PrintOptions,
  warnings: Warnings,
): PrintPage[] {
  const { order, pages, hasGaps } = laid;
  const day = order.dispatchOn === null ? 'no day set' : dayWords(order.dispatchOn, options.locale, 'short');
  return pages.map((placed, index) => {
    const foot = footMarks(
      paper,
      {
        what: `Packing sheet, order ${order.orderNumber}`,
        whom: order.customerName,
        country: order.country,
        when: `dispatch ${day}`,
        page: `page ${index + 1} of ${pages.length}`,
        overall: overall(index + 1),
        source: `${options.businessName}, printed ${dayWords(options.printedOn, options.locale, 'short')}`,
        hasGaps,
        speaker: speakerFor({ language: 'en', locale: options.locale }),
      },
      warnings,
    );
    const head = index === 0 ? [] : runningHead(order, paper, warnings);
    const page = { placed: [...head, ...placed, ...foot] };
    return index === 0 ? { ...page, bookmark: `Order ${order.orderNumber}, ${order.customerName}` } : page;
  });
}

function runningHead(order: PackingSheetData, paper: Paper, warnings: Warnings): Placed[] {
  const frame = frameOf(paper);
  const code = { ...BENCH.code, sizePt: 15 };
  const pieces = [
    { text: clipped(order.orderNumber, frame.widthPt * 0.6, warnings, code), style: code },
    words('  continued', 'body'),
  ];
  const line = wrap(pieces, frame.widthPt, warnings)[0];
  return line ? lineMarks(line, frame.xPt, frame.yPt, null) : [];
}

function emptyPage(paper: Paper, root: Element, warnings: Warnings): PrintPage {
  const { xPt, yPt, widthPt } = frameOf(paper);
  const owner = element('P', root);
  const line = wrap([words('No orders were chosen for this print.', 'body')], widthPt, warnings)[0];
  return { placed: line ? lineMarks(line, xPt, yPt, owner) : [] };
}
