import { speakerFor } from '../words/speaker.ts';
import { framed, paragraph, row, stack } from './blocks.ts';
import type { Warnings } from './characters.ts';
import { dayWords } from './day-words.ts';
import { asPlaced, type Element, element, type Placed } from './drawing.ts';
import { flow, type Slab } from './flow.ts';
import { checkBox } from './marks.ts';
import { type BenchStyle, counted, words } from './packing-style.ts';
import { footMarks, frameOf } from './page-frame.ts';
import { HAIRLINE, mm, type Paper } from './paper.ts';
import type { PrintPage } from './print.ts';
import type { PrintOptions } from './print-options.ts';

/** What a packing day needs on the bench, and in which order its parcels are packed. */
export interface BenchList {
  /** `YYYY-MM-DD` */
  day: string;
  orders: BenchOrder[];
  cups: BenchMaterial[];
  boxes: BenchMaterial[];
  packs: BenchMaterial[];
  /** Orders without a box: they wait for the owner. */
  undecided: string[];
  totals: { orders: number; cups: number; animals: number };
}

export interface BenchOrder {
  number: string;
  customerName: string;
  /** Two letters of where the box goes; decides the forms of Chinese characters. */
  country?: string | undefined;
  dispatchBy: string | null;
  /** Such as `Foam-lined, small`; empty while none is chosen. */
  box: string;
  /** Such as `1 × Heat pack, 40 hours`; empty for none. */
  pack: string;
  cups: number;
  isHeld: boolean;
  hasOverride: boolean;
}

export interface BenchMaterial {
  name: string;
  count: number;
  /** How many are left in the stock; null where they are not counted. */
  left: number | null;
  /** When to start them, in words; empty where nothing is started. */
  start: string;
}

const ORDER_SAID =
  'In this order: what must leave first, then by where the walk along the shelves begins, then by number.';

interface BenchPages {
  part: Element;
  pages: Placed[][];
  furnished(overall: (page: number) => string): PrintPage[];
}

/** The first pages of a day's print. */
export function benchPages(
  list: BenchList,
  paper: Paper,
  options: PrintOptions,
  warnings: Warnings,
): BenchPages {
  const part = element('Sect', null);
  const { widthPt } = frameOf(paper);
  const day = dayWords(list.day, options.locale);
  const { orders, cups, animals } = list.totals;
  const text = (tag: 'H1' | 'H2' | 'P', said: string, style: BenchStyle, gapPt: number) =>
    paragraph([words(said, style)], widthPt, element(tag, part), warnings, {
      gapPt,
      keepWithNext: tag !== 'P',
    });
  const inAll = [
    counted(orders, 'parcel', 'parcels'),
    counted(cups, 'cup', 'cups'),
    counted(animals, 'animal', 'animals'),
  ].join(', ');
  const slabs: Slab[] = [
    ...text('H1', `Bench list\n${day}`, 'figure', 0),
    ...text('P', inAll, 'place', 4),
    ...undecidedLines(list.undecided, widthPt, part, warnings),
    ...text('H2', 'Lay out', 'heading', 14),
    ...materials(list, widthPt, part, warnings),
    ...text('H2', 'Parcels', 'heading', 16),
    ...text('P', ORDER_SAID, 'body', 1),
    ...orderTable(list.orders, widthPt, part, warnings),
  ];
  const pages = flow(slabs, () => frameOf(paper));
  return {
    part,
    pages,
    furnished: (overall) => furnished(pages, list, overall, paper, options, warnings),
  };
}

function furnished(
  pages: Placed[][],
  list: BenchList,
  overall: (page: number) => string,
  paper: Paper,
  options: PrintOptions,
  warnings: Warnings,
): PrintPage[] {
  const short = (day: string) => dayWords(day, options.locale, 'short');
  return pages.map((placed, index) => {
    const foot = footMarks(
      paper,
      {
        what: 'Bench list',
        whom: '',
        when: `packing day ${short(list.day)}`,
        page: `page ${index + 1} of ${pages.length}`,
        overall: overall(index + 1),
        source: `${options.businessName}, printed ${short(options.printedOn)}`,
        hasGaps: warnings.unprintable > 0,
        speaker: speakerFor({ language: 'en', locale: options.locale }),
      },
      warnings,
    );
    const page = { placed: [...placed, ...foot] };
    return index === 0 ? { ...page, bookmark: 'Bench list' } : page;
  });
}

function undecidedLines(numbers: string[], widthPt: number, parent: Element, warnings: Warnings): Slab[] {
  if (numbers.length === 0) return [];
  const which = `${numbers.length === 1 ? 'Order' : 'Orders'} ${numbers.join(', ')}`;
  const said = `${which}: no box is chosen yet, so boxes and packs of ${numbers.length === 1 ? 'it are' : 'them are'} not in this list.`;
  return paragraph([words(said, 'strong')], widthPt, element('P', parent), warnings, { gapPt: 6 });
}

/** Cups, boxes and packs, each with a box to tick once it lies there. */
function materials(
  { cups, boxes, packs }: BenchList,
  widthPt: number,
  parent: Element,
  warnings: Warnings,
): Slab[] {
  const named: [string, BenchMaterial[]][] = [
    ['Cups', cups],
    ['Boxes', boxes],
    ['Packs', packs],
  ];
  const table = element('Table', parent);
  return named.flatMap(([what, list]) =>
    list.length === 0
      ? [materialRow(`${what}: none`, null, widthPt, table, warnings)]
      : list.map((each) => materialRow(what, each, widthPt, table, warnings)),
  );
}

function materialRow(
  what: string,
  material: BenchMaterial | null,
  widthPt: number,
  table: Element,
  warnings: Warnings,
): Slab {
  const line = element('TR', table);
  const first = mm(9);
  const [numberPt, namePt] = [mm(18), widthPt * 0.46];
  const rest = widthPt - first - numberPt - namePt - mm(4);
  const cell = (tag: 'TH' | 'TD') => element(tag, line, tag === 'TH' ? { scope: 'Row' } : {});
  const say = (said: string, style: BenchStyle, width: number, owner: Element) =>
    stack(paragraph([words(said, style)], width, owner, warnings));
  if (!material)
    return framedRow(row([{ xPt: first, content: say(what, 'body', namePt, cell('TH')) }]), widthPt);
  const short = material.left !== null && material.left < material.count;
  const left = material.left === null ? '' : short ? `Only ${material.left} in the stock.` : '';
  const head = cell('TH');
  return framedRow(
    row([
      { xPt: 0, content: tick() },
      { xPt: first, content: say(String(material.count), 'makeUp', numberPt, cell('TD')) },
      {
        xPt: first + numberPt,
        content: say(`${what.slice(0, what === 'Boxes' ? -2 : -1)}: ${material.name}`, 'body', namePt, head),
      },
      {
        xPt: first + numberPt + namePt + mm(4),
        content: say(
          [left, material.start].filter((said) => said !== '').join(' '),
          'strong',
          rest,
          cell('TD'),
        ),
      },
    ]),
    widthPt,
  );
}

const framedRow = (content: Slab, widthPt: number) =>
  framed(content, widthPt, { padPt: 4, padXPt: 0, stroke: { widthPt: HAIRLINE }, sides: 'top' });

function tick(): Slab {
  return {
    heightPt: 18,
    gapPt: 0,
    keepWithNext: false,
    draw: (xPt, yPt) => asPlaced([checkBox(14, xPt + 0.5, yPt + 1)], null),
  };
}

const COLUMNS: { head: string; share: number }[] = [
  { head: 'Leaves by', share: 0.12 },
  { head: 'Order', share: 0.3 },
  { head: 'Cups', share: 0.08 },
  { head: 'Box', share: 0.22 },
  { head: 'Pack', share: 0.28 },
];

function orderTable(orders: BenchOrder[], widthPt: number, parent: Element, warnings: Warnings): Slab[] {
  const table = element('Table', parent);
  const first = mm(9);
  const room = widthPt - first;
  const line = (cells: { text: string; style: BenchStyle }[], isHead: boolean): Slab => {
    const tr = element('TR', table);
    let at = first;
    const columns = cells.map(({ text, style }, index) => {
      const width = room * (COLUMNS[index]?.share ?? 0);
      const owner = isHead
        ? element('TH', tr, { scope: 'Column' })
        : index === 1
          ? element('TH', tr, { scope: 'Row' })
          : element('TD', tr);
      const content = stack(paragraph([words(text, style)], width - 6, owner, warnings));
      const column = { xPt: at, content };
      at += width;
      return column;
    });
    return row(isHead ? columns : [{ xPt: 0, content: tick() }, ...columns], { keepWithNext: isHead });
  };
  const head = line(
    COLUMNS.map((column) => ({ text: column.head, style: 'label' })),
    true,
  );
  return [{ ...head, gapPt: 6 }, ...orders.map((order) => framedRow(line(cellsOf(order), false), widthPt))];
}

function cellsOf(order: BenchOrder): { text: string; style: BenchStyle }[] {
  const marks = [order.isHeld ? 'held for pickup' : '', order.hasOverride ? 'OVERRIDE, read its sheet' : ''];
  const whom = [`${order.number} ${order.customerName}`, ...marks.filter((mark) => mark !== '')].join('\n');
  return [
    { text: order.dispatchBy ?? 'not set', style: 'strong' },
    { text: whom, style: 'strong' },
    { text: String(order.cups), style: 'body' },
    { text: order.box === '' ? 'not chosen' : order.box, style: 'body' },
    { text: order.pack === '' ? 'none' : order.pack, style: 'body' },
  ];
}
