import { careHeadingWords } from '../../shared/species/columns.ts';
import { type Speaker, speakerFor } from '../words/speaker.ts';
import { type ArrivalCard, arrivalPages } from './arrival-page.ts';
import { type CareContent, type CareFit, careContent } from './care-page.ts';
import type { CareSheetData } from './care-sheet-data.ts';
import { LEAST_BODY_PT } from './care-style.ts';
import { TEXT_HEADINGS } from './care-text.ts';
import { Warnings } from './characters.ts';
import { type Element, element, type Placed } from './drawing.ts';
import { drawStack } from './flow.ts';
import { footMarks, frameOf } from './page-frame.ts';
import { mm, type Paper, paperOf } from './paper.ts';
import { type PrintPage, printPages } from './print.ts';
import { type Printed, type PrintOptions, wordsLang } from './print-options.ts';

/** Why a sheet does not fit on one page, for the person who can shorten its text. */
export interface CareSheetFault {
  scientificName: string;
  commonName: string;
  /** What is longest: a heading of the care text, or `Cautions`, `Names`, `Substrate layers`. */
  heading: string;
  /** About how many characters must go. */
  charactersTooMany: number;
  message: string;
}

/** No print was made: some sheets do not fit on their page even in the smallest type. */
export class CareSheetsTooLong extends Error {
  constructor(readonly faults: CareSheetFault[]) {
    super(faults.map((fault) => fault.message).join(' '));
    this.name = 'CareSheetsTooLong';
  }
}

/** Sizes of running text and drawing, from roomy to tight. */
const SIZES = [
  [11.5, 72],
  [11, 66],
  [11, 56],
  [10.5, 52],
  [10, 50],
  [9.5, 46],
  [9, 42],
  [LEAST_BODY_PT, 38],
  [LEAST_BODY_PT, 30],
] as const;

/** The first that fits is taken; at each size a text broken between its sections is tried before any other. */
const FITS: CareFit[] = SIZES.flatMap(([bodyPt, drawingMm]) =>
  [true, false].map((whole) => ({ bodyPt, drawingPt: mm(drawingMm), whole })),
);

/**
 * Care sheets, one page each, in one PDF: for one species, or for all that an order holds, then behind the card that
 * says what to do when the box arrives.
 * Errors: `CareSheetsTooLong` when a text does not fit on its page; it names the heading to shorten.
 */
export async function careSheets(
  sheets: CareSheetData[],
  options: PrintOptions,
  card: ArrivalCard | null = null,
): Promise<Printed> {
  const faults = sheets.flatMap((sheet) => careSheetFault(sheet, options) ?? []);
  if (faults.length > 0) throw new CareSheetsTooLong(faults);
  const warnings = new Warnings();
  const paper = paperOf(options.paper);
  const root = element('Document', null);
  const pages = [
    ...(card ? arrivalPages(card, paper, options, root, warnings) : []),
    ...sheets.map((sheet, index) =>
      sheetPage(sheet, { index, count: sheets.length }, paper, options, root, warnings),
    ),
  ];
  const pdf = await printPages(pages, root, paper, {
    title: titleOf(sheets, options),
    author: options.businessName,
    lang: wordsLang(options),
    createdAt: options.createdAt,
  });
  return { pdf, warnings: warnings.list };
}

/** Null when the sheet fits on one page; also for the form in which the care text is written. */
export function careSheetFault(sheet: CareSheetData, options: PrintOptions): CareSheetFault | null {
  const paper = paperOf(options.paper);
  const smallest = FITS.at(-1);
  if (!smallest) return null;
  const linePt = smallest.bodyPt * 1.3;
  const overPt = overBy(sheet, smallest, linePt, options);
  if (overPt <= 0) return null;
  const heading = longest(sheet);
  // two columns, and about two characters to a point size across
  const perLine = frameOf(paper).widthPt / (smallest.bodyPt * 0.5);
  const charactersTooMany = Math.ceil(((overPt / linePt) * perLine) / 10) * 10;
  const name = sheet.commonName === '' ? sheet.scientificName : sheet.commonName;
  return {
    scientificName: sheet.scientificName,
    commonName: sheet.commonName,
    heading,
    charactersTooMany,
    message:
      `The care sheet of ${name} does not fit on one ${options.paper} page: ` +
      `shorten “${heading}”, about ${charactersTooMany} characters too many.`,
  };
}

/** More lines than any page holds in two columns of the smallest type: setting them would only cost time. */
const mostLines = 600;

/** By how much a sheet is too high for its page. */
function overBy(sheet: CareSheetData, fit: CareFit, linePt: number, options: PrintOptions): number {
  const lines = [...Object.values(sheet.text), ...sheet.cautions].join('\n').split('\n').length;
  if (lines > mostLines) return (lines - mostLines) * linePt;
  const paper = paperOf(options.paper);
  return tried(sheet, fit, paper, options).heightPt - roomPt(paper);
}

function titleOf(sheets: CareSheetData[], options: PrintOptions): string {
  const names = sheets.map((sheet) => sheet.commonName || sheet.scientificName);
  const speaker = speakerFor(options);
  const [name, ...others] = names;
  return name !== undefined && others.length === 0
    ? speaker.say('care.titleOfOne', { name })
    : speaker.say('care.titleOfMany', { names: names.join(', ') });
}

function roomPt(paper: Paper): number {
  const frame = frameOf(paper);
  return frame.bottomPt - frame.yPt;
}

/** Set but not kept: elements and warnings of a trial go nowhere. */
function tried(sheet: CareSheetData, fit: CareFit, paper: Paper, options: PrintOptions): CareContent {
  return careContent(sheet, frameOf(paper).widthPt, fit, options, element('Document', null), new Warnings());
}

function longest(sheet: CareSheetData): string {
  const lengths: [string, number][] = [
    ...([...TEXT_HEADINGS, 'substrate', 'temperature'] as const).map((heading): [string, number] => [
      careHeadingWords[heading],
      sheet.text[heading].length,
    ]),
    ['Cautions', sheet.cautions.join('').length],
    ['Names', 3 * (sheet.commonName.length + sheet.scientificName.length)],
    ['Substrate layers', 40 * sheet.recipe.reduce((sum, layer) => sum + 1 + layer.materials.length, 0)],
  ];
  return lengths.reduce((most, each) => (each[1] > most[1] ? each : most))[0];
}

function sheetPage(
  sheet: CareSheetData,
  place: { index: number; count: number },
  paper: Paper,
  options: PrintOptions,
  root: Element,
  warnings: Warnings,
): PrintPage {
  const before = warnings.unprintable;
  const room = roomPt(paper);
  const fit = FITS.find((each) => tried(sheet, each, paper, options).heightPt <= room) ?? FITS.at(-1)!;
  const part = element('Sect', root);
  const frame = frameOf(paper);
  const content = careContent(sheet, frame.widthPt, fit, options, part, warnings);
  emptyHeadings(sheet, warnings);
  const placed: Placed[] = [
    ...drawStack(content.main, frame.xPt, frame.yPt),
    ...content.cautions.draw(frame.xPt, frame.bottomPt - content.cautions.heightPt),
  ];
  const name = sheet.commonName === '' ? sheet.scientificName : sheet.commonName;
  const speaker = speakerFor(options);
  const { batch } = sheet;
  const foot = footMarks(
    paper,
    {
      what: speaker.say('care.sheet', { name }),
      whom: whomOf(sheet, speaker),
      country: batch?.country,
      when: batch ? speaker.say('paper.packed', { day: speaker.day(batch.packedOn, 'short') }) : '',
      page: speaker.say('paper.page', { page: '1', pages: '1' }),
      overall:
        place.count > 1
          ? speaker.say('paper.overall', { number: String(place.index + 1), count: String(place.count) })
          : '',
      source: speaker.say('paper.printed', {
        business: options.businessName,
        day: speaker.day(options.printedOn, 'short'),
      }),
      hasGaps: warnings.unprintable > before,
      speaker,
    },
    warnings,
  );
  return { placed: [...placed, ...foot], bookmark: name };
}

function whomOf({ batch }: CareSheetData, speaker: Speaker): string {
  if (!batch) return speaker.say('care.forAnybody');
  const { customerName: name, orderNumber: number } = batch;
  return [
    name === '' ? '' : speaker.say('paper.whom', { name }),
    number === '' ? '' : speaker.say('paper.order', { number }),
  ]
    .filter((each) => each !== '')
    .join(', ');
}

function emptyHeadings(sheet: CareSheetData, warnings: Warnings): void {
  const empty = TEXT_HEADINGS.filter((heading) => sheet.text[heading].trim() === '');
  if (empty.length === 0) return;
  const names = empty.map((heading) => careHeadingWords[heading]).join(', ');
  warnings.add(`The care sheet of ${sheet.scientificName} has no text under: ${names}.`);
}
