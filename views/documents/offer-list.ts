import type { Offer } from '../../shared/offers/offer.ts';
import { groupWords, spareWords } from '../offers/offer-words.ts';
import { type Speaker, speakerFor } from '../words/speaker.ts';
import { framed, paragraph, row, stack } from './blocks.ts';
import { Warnings } from './characters.ts';
import { type Element, element } from './drawing.ts';
import { flow, type Slab } from './flow.ts';
import { INVOICE as TYPE } from './invoice-style.ts';
import type { Piece } from './lines.ts';
import { footMarks, frameOf } from './page-frame.ts';
import { HAIRLINE, mm, paperOf, RULE } from './paper.ts';
import { printPages } from './print.ts';
import { type Printed, type PrintOptions, wordsLang } from './print-options.ts';

type Sheet = { say: Speaker; widthPt: number; warnings: Warnings };
type Cells = { what: Piece[]; group: Piece[]; price: Piece[]; spare: Piece[] };

function tableRow({ widthPt, warnings }: Sheet, table: Element, cells: Cells, isHead: boolean): Slab {
  const entry = element('TR', table);
  const gap = mm(3);
  const widths = { what: 0.36, group: 0.24, price: 0.14, spare: 0.26 };
  let xPt = 0;
  const columns = (['what', 'group', 'price', 'spare'] as const).map((name, index) => {
    const at = xPt;
    xPt += widthPt * widths[name];
    const heads = isHead || index === 0;
    const cell = heads ? element('TH', entry, { scope: isHead ? 'Column' : 'Row' }) : element('TD', entry);
    const room = widthPt * widths[name] - gap;
    const slabs = paragraph(cells[name], room, element('P', cell), warnings, {});
    return { xPt: at, content: stack(slabs) };
  });
  const stroke = { widthPt: isHead ? RULE : HAIRLINE };
  return framed(
    row(columns),
    widthPt,
    { padPt: 4, padXPt: 0, stroke, sides: 'top' },
    { gapPt: isHead ? mm(6) : 0 },
  );
}

function table(sheet: Sheet, offers: readonly Offer[], currency: string, parent: Element): Slab[] {
  const { say } = sheet;
  const made = element('Table', parent);
  const head = (key: 'species' | 'group' | 'price' | 'spare'): Piece[] => [
    { text: say.say(`offers.${key}`), style: TYPE.label },
  ];
  const body = (text: string): Piece[] => [{ text, style: TYPE.body }];
  const heads = { what: head('species'), group: head('group'), price: head('price'), spare: head('spare') };
  const rows = offers.map((offer) => {
    const common = offer.commonName === '' ? [] : body(`, ${offer.commonName}`);
    const cells = {
      what: [{ text: offer.scientificName, style: TYPE.latin }, ...common],
      group: body(groupWords(say, offer)),
      price: [{ text: say.money(offer.priceMinor, currency), style: TYPE.figure }],
      spare: body(spareWords(say, offer)),
    };
    return tableRow(sheet, made, cells, false);
  });
  return [{ ...tableRow(sheet, made, heads, true), keepWithNext: true }, ...rows];
}

export interface OfferList {
  offers: readonly Offer[];
  currency: string;
}

/** The list of what is spare, on paper, in the language that the options name. */
export async function offerListPaper(
  { offers, currency }: OfferList,
  options: PrintOptions,
): Promise<Printed> {
  const warnings = new Warnings();
  const paper = paperOf(options.paper);
  const root = element('Document', null);
  const section = element('Sect', root);
  const frame = frameOf(paper);
  const say = speakerFor(options);
  const sheet: Sheet = { say, widthPt: frame.widthPt, warnings };
  const title = say.say('offers.title');
  const line = (text: string, tag: 'H1' | 'P', style: Piece['style'], gapPt: number) =>
    paragraph([{ text, style }], frame.widthPt, element(tag, section), warnings, { gapPt });
  const slabs = [
    ...line(title, 'H1', TYPE.title, 0),
    ...line(say.say('offers.purpose', { business: options.businessName }), 'P', TYPE.body, 4),
    ...(offers.length === 0
      ? line(say.say('offers.none'), 'P', TYPE.body, 12)
      : table(sheet, offers, currency, section)),
    ...line(say.say('offers.asOf', { day: say.day(options.printedOn) }), 'P', TYPE.body, 14),
    ...line(say.say('offers.law'), 'P', TYPE.body, 4),
  ];
  const laid = flow(slabs, () => frame);
  const pages = laid.map((placed, index) => {
    const foot = {
      what: title,
      whom: '',
      when: say.day(options.printedOn, 'short'),
      page: say.say('paper.page', { page: String(index + 1), pages: String(laid.length) }),
      overall: '',
      source: options.businessName,
      hasGaps: warnings.unprintable > 0,
      speaker: say,
    };
    return {
      placed: [...placed, ...footMarks(paper, foot, warnings)],
      ...(index === 0 ? { bookmark: title } : {}),
    };
  });
  const meta = {
    title,
    author: options.businessName,
    lang: wordsLang(options),
    createdAt: options.createdAt,
  };
  return { pdf: await printPages(pages, root, paper, meta), warnings: warnings.list };
}
