import PDFDocument from 'pdfkit';
import { tidyLine } from '../../shared/text.ts';
import type { Element, Ink, Mark, Placed, Stroke } from './drawing.ts';
import { featuresOf, fontOf, hasOneWeight, isScriptFace, type PrintFace, shapedFaceOf } from './faces.ts';
import type { Paper } from './paper.ts';
import { addChildren, makeElements } from './print-tree.ts';
import type { Laying } from './shaped-font.ts';

export interface PrintMeta {
  title: string;
  author: string;
  /** BCP 47 tag of the document's words. */
  lang: string;
  /** Instant (ms UTC) that stands in the file as its creation date; given, so that equal data make equal files. */
  createdAt: number;
}

/** A page to print; `bookmark` names it in the reader's outline. */
export interface PrintPage {
  placed: Placed[];
  bookmark?: string;
}

/** Takes the file piece by piece as it is written. */
export type Sink = (chunk: Buffer) => void;

/**
 * Writes a tagged PDF 1.7 (PDF/UA-1) with embedded fonts part by part: what was written is given away and forgotten, so
 * that a long print needs no more memory than its longest part.
 */
export class PdfWriter {
  private readonly doc: PDFKit.PDFDocument;
  private readonly finished: Promise<void>;
  private top: PDFKit.PDFStructureElement | null = null;

  constructor(
    private readonly paper: Paper,
    meta: PrintMeta,
    sink: Sink,
  ) {
    this.doc = open(paper, meta);
    this.finished = given(this.doc, sink);
  }

  /** Pages and the branches of the logical tree that their marks belong to. */
  part(pages: readonly PrintPage[], branches: readonly Element[]): void {
    const { doc, paper } = this;
    const elements = new Map<Element, PDFKit.PDFStructureElement>();
    pages.forEach((page, index) => {
      doc.addPage({ size: [paper.widthPt, paper.heightPt], margin: 0 });
      if (index === 0) for (const branch of branches) makeElements(doc, branch, elements);
      if (page.bookmark) doc.outline.addItem(beside(page.bookmark));
      for (const group of groups(page.placed)) paintGroup(doc, group, elements);
    });
    const top = this.topOfTree();
    for (const branch of branches) {
      addChildren(branch, elements);
      const made = elements.get(branch);
      if (!made) continue;
      top.add(made);
      made.end();
    }
  }

  async end(): Promise<void> {
    this.doc.end();
    return this.finished;
  }

  private topOfTree(): PDFKit.PDFStructureElement {
    if (!this.top) {
      this.top = this.doc.struct('Document');
      this.doc.addStructure(this.top);
    }
    return this.top;
  }
}

/** Writes all pages of a document whose tree begins with `root`. */
export async function printPages(
  pages: PrintPage[],
  root: Element,
  paper: Paper,
  meta: PrintMeta,
): Promise<Buffer> {
  const chunks: Buffer[] = [];
  const writer = new PdfWriter(paper, meta, (chunk) => chunks.push(chunk));
  writer.part(pages, root.children);
  await writer.end();
  return Buffer.concat(chunks);
}

function open(paper: Paper, meta: PrintMeta): PDFKit.PDFDocument {
  const options = {
    pdfVersion: '1.7',
    subset: 'PDF/UA',
    tagged: true,
    lang: meta.lang,
    displayTitle: true,
    autoFirstPage: false,
    size: [paper.widthPt, paper.heightPt],
    margin: 0,
    // no standard font may be named in the file: PDF/UA wants every font embedded
    font: null,
    info: {
      Title: metaText(meta.title),
      Author: metaText(meta.author),
      Producer: 'Broodbench',
      Creator: 'Broodbench',
      CreationDate: new Date(meta.createdAt),
    },
  };
  // the library's types know neither PDF/UA nor the missing default font
  return new PDFDocument(options as unknown as PDFKit.PDFDocumentOptions);
}

/**
 * The library writes these texts into an XML packet as they stand. This string gives its XML form when it is put into
 * a template and its plain form everywhere else.
 */
class MetaText extends String {
  override toString(): string {
    return this.valueOf().replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
  }
}

/** What a reader shows beside the pages: one line, of which nothing turns the rest of its window. */
const beside = (text: string) => tidyLine(text.replace(/[\p{Cc}\p{Cs}]/gu, ' '));

function metaText(text: string): string {
  return new MetaText(beside(text)) as unknown as string;
}

/** Gives the file away as it is written; resolves when nothing is left. */
function given(doc: PDFKit.PDFDocument, sink: Sink): Promise<void> {
  return new Promise((resolve, reject) => {
    doc.on('data', sink);
    doc.on('end', () => resolve());
    doc.on('error', reject);
  });
}

/**
 * Neighbouring marks of one element and one language become one marked stretch of the page. What was shaped is a stretch
 * of its own, which says its text as it was written.
 */
function groups(placed: Placed[]): Placed[][] {
  const found: Placed[][] = [];
  for (const each of placed) {
    const first = found.at(-1)?.[0];
    const isPlain = first && actualOf(first) === undefined && actualOf(each) === undefined;
    if (isPlain && first.element === each.element && langOf(first) === langOf(each)) found.at(-1)?.push(each);
    else found.push([each]);
  }
  return found;
}

const isShaped = (mark: Extract<Mark, { kind: 'text' }>): boolean =>
  mark.rtl === true || isScriptFace(mark.face);

function actualOf({ mark, element }: Placed): string | undefined {
  return mark.kind === 'text' && element && isShaped(mark) ? mark.text : undefined;
}

function langOf({ mark }: Placed): string | undefined {
  return mark.kind === 'text' ? mark.lang : undefined;
}

function paintGroup(
  doc: PDFKit.PDFDocument,
  group: Placed[],
  elements: Map<Element, PDFKit.PDFStructureElement>,
): void {
  const [first] = group;
  if (!first) return;
  if (!first.element) doc.markContent('Artifact', { type: 'Layout' });
  else {
    const structure = elements.get(first.element);
    if (!structure) throw new Error(`a ${first.element.tag} was drawn that is not in the document's tree`);
    const span: { lang?: string; actual?: string } = {};
    const [lang, actual] = [langOf(first), actualOf(first)];
    if (lang) span.lang = lang;
    if (actual) span.actual = actual;
    if (lang || actual) structure.add(doc.struct('Span', span, [doc.markStructureContent('Span')]));
    else structure.add(doc.markStructureContent(first.element.tag));
  }
  for (const { mark } of group) paint(doc, mark);
  doc.endMarkedContent();
}

function paint(doc: PDFKit.PDFDocument, mark: Mark): void {
  if (mark.kind === 'text') paintText(doc, mark);
  else {
    doc.save();
    trace(doc, mark);
    finish(doc, mark.stroke, mark.fill);
    doc.restore();
  }
}

function trace(doc: PDFKit.PDFDocument, mark: Exclude<Mark, { kind: 'text' }>): void {
  if (mark.kind === 'curve') doc.path(mark.d);
  else if (mark.kind === 'rects')
    for (const [x, y, width, height] of mark.rects) doc.rect(x, y, width, height);
  else {
    for (const [index, [x, y]] of mark.points.entries()) {
      if (index === 0) doc.moveTo(x, y);
      else doc.lineTo(x, y);
    }
    if (mark.closed) doc.closePath();
  }
}

function finish(doc: PDFKit.PDFDocument, stroke: Stroke | undefined, fill: Ink | undefined): void {
  if (stroke) {
    doc
      .lineWidth(stroke.widthPt)
      .lineCap('round')
      .lineJoin('round')
      .strokeColor(shade(stroke.ink ?? 1));
    if (stroke.dash) doc.dash(stroke.dash[0], { space: stroke.dash[1] });
  }
  if (fill !== undefined) doc.fillColor(shade(fill));
  if (stroke && fill !== undefined) doc.fillAndStroke();
  else if (stroke) doc.stroke();
  else doc.fill();
}

/** The outline that makes a face of one weight bold, as a share of its size. */
const OUTLINE = 0.028;

function paintText(doc: PDFKit.PDFDocument, mark: Extract<Mark, { kind: 'text' }>): void {
  if (mark.text === '') return;
  const shaped = isShaped(mark);
  const laying: Laying = { rtl: mark.rtl ?? false };
  // the library hands these on to the font unread; its types know only the list form
  const features = (
    shaped ? laying : featuresOf(mark.face, mark.tabular)
  ) as PDFKit.Mixins.OpenTypeFeatures[];
  const outlined = mark.bold === true && hasOneWeight(mark.face);
  face(doc, mark.face, shaped);
  doc.fontSize(mark.sizePt).fillColor(shade(1));
  if (outlined) doc.lineWidth(mark.sizePt * OUTLINE).strokeColor(shade(1));
  doc.text(mark.text, mark.xPt, mark.yPt, {
    lineBreak: false,
    baseline: 'alphabetic',
    ...(features ? { features } : {}),
    ...(outlined ? { fill: true, stroke: true } : {}),
  });
  if (shaped) paintOutlines(doc, mark);
}

/** Dots and marks that are no text of their own, drawn where the shaper put them. */
function paintOutlines(doc: PDFKit.PDFDocument, mark: Extract<Mark, { kind: 'text' }>): void {
  const { shaper, font } = shapedFaceOf(mark.face);
  const scale = mark.sizePt / font.unitsPerEm;
  let pen = 0;
  for (const glyph of shaper.shape(mark.text, mark.rtl ?? false).glyphs) {
    const outline = glyph.text === '' ? shaper.outlineOf(glyph.id) : '';
    if (outline !== '') {
      doc.save();
      doc.translate(mark.xPt + (pen + glyph.xOffset) * scale, mark.yPt - glyph.yOffset * scale);
      doc.scale(scale, -scale).path(outline).fill(shade(1));
      doc.restore();
    }
    pen += glyph.xAdvance;
  }
}

const registered = new WeakMap<PDFKit.PDFDocument, Set<string>>();

/** The library takes a parsed font as well as a file; its types know only files. */
function face(doc: PDFKit.PDFDocument, wanted: PrintFace, shaped: boolean): void {
  const known = registered.get(doc) ?? new Set();
  registered.set(doc, known);
  const name = shaped ? `${wanted}, shaped` : wanted;
  const font = shaped ? shapedFaceOf(wanted).font : fontOf(wanted);
  if (!known.has(name)) doc.registerFont(name, font as unknown as Buffer);
  known.add(name);
  doc.font(name);
}

function shade(ink: Ink): string {
  const level = Math.round(255 * (1 - ink))
    .toString(16)
    .padStart(2, '0');
  return `#${level}${level}${level}`;
}
