import { type SayKey, type Speaker, speakerFor } from '../words/speaker.ts';
import { framed, paragraph, row, stack } from './blocks.ts';
import { sayPiece } from './care-style.ts';
import type { Warnings } from './characters.ts';
import { type Element, element } from './drawing.ts';
import { flow, type Slab } from './flow.ts';
import { inCountry, type Piece, type TextStyle } from './lines.ts';
import { qrSlab } from './marks.ts';
import { footMarks, frameOf } from './page-frame.ts';
import { HAIRLINE, HEAVY, mm, type Paper } from './paper.ts';
import type { PrintPage } from './print.ts';
import type { PrintOptions } from './print-options.ts';

/** The card on top of what is in a box: what to do first, and what is in it. */
export interface ArrivalCard {
  orderNumber: string;
  customerName: string;
  /** Two letters; decides the forms of Chinese characters. */
  country?: string;
  /** `YYYY-MM-DD` */
  packedOn: string;
  contents: ArrivalContent[];
  /** Where the customer reaches the business; empty if nothing is known. */
  reachAt: string;
  /** What the QR code opens; null for none. */
  link: string | null;
}

export interface ArrivalContent {
  commonName: string;
  /** Of the common name, where it is not the card's. */
  nameLang?: string | undefined;
  scientificName: string;
  cultureCode: string;
  /** Empty if no line is kept. */
  line: string;
}

/** In the order in which they are done. */
const STEPS = [
  ['arrival.unpack', 'arrival.unpackWords'],
  ['arrival.settle', 'arrival.settleWords'],
  ['arrival.water', 'arrival.waterWords'],
  ['arrival.worry', 'arrival.worryWords'],
] as const satisfies readonly (readonly [SayKey, SayKey])[];

/** Read by somebody who kneels beside an open box. */
const TYPE = {
  title: { face: 'bold', sizePt: 27, leading: 1.15 },
  heading: { face: 'bold', sizePt: 15, leading: 1.25 },
  number: { face: 'bold', sizePt: 22, leading: 1.15, tabular: true },
  body: { face: 'regular', sizePt: 12.5, leading: 1.35 },
  strong: { face: 'bold', sizePt: 12.5, leading: 1.35 },
  latin: { face: 'italic', sizePt: 12.5, leading: 1.35, lang: 'la' },
  code: { face: 'monoBold', sizePt: 12.5, leading: 1.35 },
  small: { face: 'regular', sizePt: 11, leading: 1.3 },
} satisfies Record<string, TextStyle>;

const piece = (text: string, style: TextStyle): Piece => ({ text, style });

/** The card on one page, on more where a box holds very much. */
export function arrivalPages(
  card: ArrivalCard,
  paper: Paper,
  options: PrintOptions,
  root: Element,
  warnings: Warnings,
): PrintPage[] {
  const speaker = speakerFor(options);
  const frame = frameOf(paper);
  const before = warnings.unprintable;
  const section = element('Sect', root);
  const slabs = [
    head(card, frame.widthPt, speaker, section, warnings),
    ...steps(frame.widthPt, speaker, section, warnings),
    ...contents(card, frame.widthPt, speaker, section, warnings),
    ...reach(card, frame.widthPt, speaker, section, warnings),
  ];
  const pages = flow(slabs, () => frame);
  return pages.map((placed, index) => ({
    placed: [
      ...placed,
      ...footMarks(
        paper,
        {
          what: speaker.say('arrival.title'),
          whom: whomOf(card, speaker),
          country: card.country,
          when: speaker.say('paper.packed', { day: speaker.day(card.packedOn, 'short') }),
          page: speaker.say('paper.page', { page: String(index + 1), pages: String(pages.length) }),
          overall: '',
          source: speaker.say('paper.printed', {
            business: options.businessName,
            day: speaker.day(options.printedOn, 'short'),
          }),
          hasGaps: warnings.unprintable > before,
          speaker,
        },
        warnings,
      ),
    ],
    ...(index === 0 ? { bookmark: speaker.say('arrival.title') } : {}),
  }));
}

const whomOf = (card: ArrivalCard, speaker: Speaker): string =>
  [
    speaker.say('paper.whom', { name: card.customerName }),
    speaker.say('paper.order', { number: card.orderNumber }),
  ].join(', ');

function head(
  card: ArrivalCard,
  widthPt: number,
  speaker: Speaker,
  parent: Element,
  warnings: Warnings,
): Slab {
  const code = card.link === null ? null : qr(card.link, speaker);
  const sidePt = code ? Math.max(code.slab.widthPt, mm(36)) : 0;
  const textPt = code ? widthPt - sidePt - mm(6) : widthPt;
  const title = element('H1', parent);
  const whom = element('P', parent);
  const packed = element('P', parent);
  const text = stack([
    ...paragraph([piece(speaker.say('arrival.title'), TYPE.title)], textPt, title, warnings),
    ...paragraph([inCountry(piece(whomOf(card, speaker), TYPE.body), card.country)], textPt, whom, warnings, {
      gapPt: 4,
    }),
    ...paragraph(
      [piece(speaker.say('care.packed', { day: speaker.day(card.packedOn) }), TYPE.body)],
      textPt,
      packed,
      warnings,
    ),
  ]);
  if (!code) return text;
  const figure = code.figure;
  parent.children.push(figure);
  const caption = paragraph(
    [piece(speaker.say('arrival.scan'), TYPE.small)],
    sidePt,
    element('P', parent),
    warnings,
    {
      align: 'centre',
    },
  );
  const scan = stack([row([{ xPt: (sidePt - code.slab.widthPt) / 2, content: code.slab }]), ...caption]);
  return row([
    { xPt: 0, content: text },
    { xPt: widthPt - sidePt, content: scan },
  ]);
}

function qr(link: string, speaker: Speaker) {
  const figure = element('Figure', null, { alt: `${speaker.say('arrival.scan')}: ${link}` });
  return { figure, slab: qrSlab(link, figure) };
}

function steps(widthPt: number, speaker: Speaker, parent: Element, warnings: Warnings): Slab[] {
  const list = element('L', parent);
  const indentPt = mm(11);
  return STEPS.map(([name, text], index) => {
    const entry = element('LI', list);
    const number = paragraph(
      [piece(String(index + 1), TYPE.number)],
      indentPt,
      element('Lbl', entry),
      warnings,
    );
    const body = element('LBody', entry);
    const textPt = widthPt - indentPt;
    const content = row([
      { xPt: 0, content: stack(number) },
      {
        xPt: indentPt,
        content: stack([
          ...paragraph([piece(speaker.say(name), TYPE.heading)], textPt, element('P', body), warnings),
          ...paragraph([piece(speaker.say(text), TYPE.body)], textPt, element('P', body), warnings, {
            gapPt: 2,
          }),
        ]),
      },
    ]);
    const frame = { padPt: 8, padXPt: 0, stroke: { widthPt: HAIRLINE }, sides: 'top' as const };
    return framed(content, widthPt, frame, { gapPt: index === 0 ? 16 : 4 });
  });
}

/** What is in the box, as a table: the animals and where they come from. */
function contents(
  card: ArrivalCard,
  widthPt: number,
  speaker: Speaker,
  parent: Element,
  warnings: Warnings,
): Slab[] {
  if (card.contents.length === 0) return [];
  const title = paragraph(
    [piece(speaker.say('arrival.inTheBox'), TYPE.heading)],
    widthPt,
    element('H2', parent),
    warnings,
    { gapPt: 12, keepWithNext: true },
  );
  const table = element('Table', parent);
  const fromPt = widthPt * 0.4;
  const rows = card.contents.map((content) => {
    const entry = element('TR', table);
    const name = element('P', element('TH', entry, { scope: 'Row' }));
    const from = element('P', element('TD', entry));
    const latin = piece(content.scientificName, TYPE.latin);
    const common = sayPiece({ text: `${content.commonName} `, lang: content.nameLang }, TYPE.strong);
    const line = content.line === '' ? '' : ` ${speaker.say('care.line', { line: content.line })}`;
    const cells = row([
      {
        xPt: 0,
        content: stack(
          paragraph(
            content.commonName === '' ? [latin] : [common, latin],
            widthPt - fromPt - mm(4),
            name,
            warnings,
          ),
        ),
      },
      {
        xPt: widthPt - fromPt,
        content: stack(
          paragraph([piece(content.cultureCode, TYPE.code), piece(line, TYPE.body)], fromPt, from, warnings),
        ),
      },
    ]);
    return framed(cells, widthPt, { padPt: 3, padXPt: 0, stroke: { widthPt: HAIRLINE }, sides: 'top' });
  });
  return [...title, ...rows];
}

function reach(
  card: ArrivalCard,
  widthPt: number,
  speaker: Speaker,
  parent: Element,
  warnings: Warnings,
): Slab[] {
  if (card.reachAt === '') return [];
  const padPt = mm(2.6);
  const words = [piece(speaker.say('arrival.reach', { address: card.reachAt }), TYPE.strong)];
  const content = stack(paragraph(words, widthPt - 2 * padPt, element('P', parent), warnings));
  return [framed(content, widthPt, { padPt, stroke: { widthPt: HEAVY }, sides: 'all' }, { gapPt: 14 })];
}
