import { speakerFor } from '../words/speaker.ts';
import { paragraph } from './blocks.ts';
import { Warnings } from './characters.ts';
import { dayWords } from './day-words.ts';
import { type Element, element, lineMarks, type Placed } from './drawing.ts';
import { flow, type Slab } from './flow.ts';
import { wrap } from './lines.ts';
import { benchForm } from './packing-bench.ts';
import { packingHead } from './packing-head.ts';
import { pickList } from './packing-picks.ts';
import type { PackingSheetData } from './packing-sheet-data.ts';
import { overrideList, speciesLimits } from './packing-species.ts';
import { BENCH, words } from './packing-style.ts';
import { clipped, footMarks, frameOf } from './page-frame.ts';
import { type Paper, paperOf } from './paper.ts';
import { type PrintPage, printPages } from './print.ts';
import { type Printed, type PrintOptions, wordsLang } from './print-options.ts';

/** Head of the second and further pages of an order. */
const RUNNING_HEAD_PT = 26;

interface Laid {
  order: PackingSheetData;
  pages: Placed[][];
  hasGaps: boolean;
}

/**
 * Packing sheets for one or more orders in one PDF. Each order begins on a new page and counts its own pages; with
 * several orders every page also says where it is in the whole print. Warnings name what could not be printed as given.
 */
export async function packingSheets(orders: PackingSheetData[], options: PrintOptions): Promise<Printed> {
  const warnings = new Warnings();
  const paper = paperOf(options.paper);
  const root = element('Document', null);
  const laid = orders.map((order) => layOut(order, paper, options, root, warnings));
  const total = laid.reduce((sum, each) => sum + each.pages.length, 0);
  let before = 0;
  const pages = laid.flatMap((each) => {
    const made = withFurniture(each, { before, total, orders: orders.length }, paper, options, warnings);
    before += each.pages.length;
    return made;
  });
  if (pages.length === 0) pages.push(emptyPage(paper, root, warnings));
  const pdf = await printPages(pages, root, paper, {
    title: titleOf(orders),
    author: options.businessName,
    lang: wordsLang(options),
    createdAt: options.createdAt,
  });
  return { pdf, warnings: warnings.list };
}

function titleOf(orders: PackingSheetData[]): string {
  const numbers = orders.map((order) => order.orderNumber);
  return `Packing sheet${orders.length === 1 ? '' : 's'}, order${orders.length === 1 ? '' : 's'} ${numbers.join(', ')}`;
}

function layOut(
  order: PackingSheetData,
  paper: Paper,
  options: PrintOptions,
  root: Element,
  warnings: Warnings,
): Laid {
  const before = warnings.unprintable;
  const part = element('Sect', root);
  const { widthPt } = frameOf(paper);
  const slabs: Slab[] = [
    ...packingHead(order, widthPt, options.locale, part, warnings),
    ...noteSlabs(order.note, widthPt, part, warnings),
    ...overrideList(order.overrides, widthPt, options, part, warnings),
    ...pickList(order.picks, widthPt, part, warnings),
    ...speciesLimits(order.species, widthPt, options, part, warnings),
    ...benchForm(widthPt, options, part, warnings),
  ];
  const pages = flow(slabs, (page) => frameOf(paper, page === 0 ? 0 : RUNNING_HEAD_PT));
  return { order, pages, hasGaps: warnings.unprintable > before };
}

function noteSlabs(note: string, widthPt: number, parent: Element, warnings: Warnings): Slab[] {
  if (note.trim() === '') return [];
  const heading = paragraph([words('Note', 'heading')], widthPt, element('H2', parent), warnings, {
    gapPt: 12,
    keepWithNext: true,
  });
  return [...heading, ...paragraph([words(note, 'body')], widthPt, element('P', parent), warnings)];
}

interface Place {
  before: number;
  total: number;
  orders: number;
}

function withFurniture(
  laid: Laid,
  place: Place,
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
        overall: place.orders > 1 ? `sheet ${place.before + index + 1} of ${place.total} in this print` : '',
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
