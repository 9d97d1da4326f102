import PDFDocument from 'pdfkit';
import type { Element, Ink, Mark, Placed, Stroke } from './drawing.ts';
import { featuresOf, fontOf, type PrintFace } from './faces.ts';
import type { Paper } from './paper.ts';

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

/** Writes pages into a tagged PDF 1.7 (PDF/UA-1) with embedded fonts. */
export async function printPages(
  pages: PrintPage[],
  root: Element,
  paper: Paper,
  meta: PrintMeta,
): Promise<Buffer> {
  const doc = open(paper, meta);
  const finished = collect(doc);
  const elements = new Map<Element, PDFKit.PDFStructureElement>();
  pages.forEach((page, index) => {
    doc.addPage({ size: [paper.widthPt, paper.heightPt], margin: 0 });
    if (index === 0) makeElements(doc, root, elements);
    if (page.bookmark) doc.outline.addItem(page.bookmark);
    for (const group of groups(page.placed)) paintGroup(doc, group, elements);
  });
  addChildren(root, elements);
  const top = elements.get(root);
  if (top) doc.addStructure(top);
  doc.end();
  return finished;
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

function metaText(text: string): string {
  return new MetaText(text.replace(/[\p{Cc}\p{Cs}]/gu, ' ')) as unknown as string;
}

function collect(doc: PDFKit.PDFDocument): Promise<Buffer> {
  return new Promise((resolve, reject) => {
    const parts: Buffer[] = [];
    doc.on('data', (part: Buffer) => parts.push(part));
    doc.on('end', () => resolve(Buffer.concat(parts)));
    doc.on('error', reject);
  });
}

function makeElements(
  doc: PDFKit.PDFDocument,
  from: Element,
  elements: Map<Element, PDFKit.PDFStructureElement>,
): void {
  const options: { alt?: string; scope?: string; bbox?: number[] } = {};
  if (from.alt !== undefined) options.alt = from.alt.replace(/[\p{Cc}\p{Cs}]/gu, ' ');
  if (from.scope !== undefined) options.scope = from.scope;
  if (from.box !== undefined) options.bbox = from.box;
  elements.set(from, doc.struct(from.tag, options));
  for (const child of from.children) makeElements(doc, child, elements);
}

function addChildren(from: Element, elements: Map<Element, PDFKit.PDFStructureElement>): void {
  for (const child of from.children) {
    addChildren(child, elements);
    const made = elements.get(child);
    if (made) elements.get(from)?.add(made);
  }
}

/** Neighbouring marks of one element and one language become one marked stretch of the page. */
function groups(placed: Placed[]): Placed[][] {
  const found: Placed[][] = [];
  for (const each of placed) {
    const first = found.at(-1)?.[0];
    if (first && first.element === each.element && langOf(first) === langOf(each)) found.at(-1)?.push(each);
    else found.push([each]);
  }
  return found;
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
    const lang = langOf(first);
    if (lang) structure.add(doc.struct('Span', { lang }, [doc.markStructureContent('Span')]));
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

function paintText(doc: PDFKit.PDFDocument, mark: Extract<Mark, { kind: 'text' }>): void {
  if (mark.text === '') return;
  face(doc, mark.face);
  doc.fontSize(mark.sizePt).fillColor(shade(1));
  const features = featuresOf(mark.face, mark.tabular);
  doc.text(mark.text, mark.xPt, mark.yPt, {
    lineBreak: false,
    baseline: 'alphabetic',
    // the library hands these on to the font unread; its types know only the list form
    ...(features ? { features: features as PDFKit.Mixins.OpenTypeFeatures[] } : {}),
  });
}

const registered = new WeakMap<PDFKit.PDFDocument, Set<PrintFace>>();

/** The library takes a parsed font as well as a file; its types know only files. */
function face(doc: PDFKit.PDFDocument, wanted: PrintFace): void {
  const known = registered.get(doc) ?? new Set();
  registered.set(doc, known);
  if (!known.has(wanted)) doc.registerFont(wanted, fontOf(wanted) as unknown as Buffer);
  known.add(wanted);
  doc.font(wanted);
}

function shade(ink: Ink): string {
  const level = Math.round(255 * (1 - ink))
    .toString(16)
    .padStart(2, '0');
  return `#${level}${level}${level}`;
}
