import jsQR from 'jsqr';
import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { PNG } from 'pngjs';

export interface ReadText {
  text: string;
  /** Left edge and baseline, from the page's upper left corner. */
  xPt: number;
  yPt: number;
  widthPt: number;
  sizePt: number;
}

export interface ReadArea {
  x: number;
  y: number;
  width: number;
  height: number;
}

export interface ReadNode {
  role?: string;
  type?: string;
  id?: string;
  alt?: string;
  lang?: string;
  children?: ReadNode[];
}

export interface ReadPage {
  widthPt: number;
  heightPt: number;
  texts: ReadText[];
  /** One line of words for each line on paper, in the order they were drawn. */
  lines: string[];
  /** Black areas without an outline, such as the modules of a QR code. */
  blackAreas: ReadArea[];
  tree: ReadNode;
  /** Words that stand in no element of the tree. */
  artifacts: string;
}

export interface ReadPdf {
  title: string;
  author: string;
  language: string;
  metadata: string;
  createdOn: string;
  marked: boolean;
  bookmarks: string[];
  pages: ReadPage[];
  /** All words of all pages, with single spaces. */
  words: string;
}

/** Reads a PDF back: what a reader would find in it, not what was meant to be in it. */
export async function readPdf(pdf: Buffer): Promise<ReadPdf> {
  const document = await getDocument({ data: new Uint8Array(pdf), verbosity: 0 }).promise;
  try {
    const { info, metadata } = await document.getMetadata();
    const facts = info as Record<string, string>;
    const pages: ReadPage[] = [];
    for (let number = 1; number <= document.numPages; number += 1) {
      pages.push(await readPage(await document.getPage(number)));
    }
    return {
      title: facts.Title ?? '',
      author: facts.Author ?? '',
      language: facts.Language ?? '',
      createdOn: facts.CreationDate ?? '',
      metadata: metadata?.getRaw() ?? '',
      marked: (await document.getMarkInfo())?.Marked ?? false,
      bookmarks: ((await document.getOutline()) ?? []).map((item) => item.title),
      pages,
      words: pages
        .flatMap((page) => page.lines)
        .join(' ')
        .replace(/\s+/g, ' '),
    };
  } finally {
    await document.loadingTask.destroy();
  }
}

type Page = Awaited<ReturnType<Awaited<ReturnType<typeof getDocument>['promise']>['getPage']>>;

async function readPage(page: Page): Promise<ReadPage> {
  const [, , widthPt = 0, heightPt = 0] = page.view;
  const content = await page.getTextContent({ disableNormalization: true });
  const items = content.items.filter((item) => 'str' in item);
  const texts = items
    .filter((item) => item.str.trim() !== '')
    .map((item) => ({
      text: item.str.trimEnd(),
      xPt: item.transform[4] as number,
      yPt: heightPt - (item.transform[5] as number),
      // the space that hangs over a line's end is not ink; no face has a narrower one than a fifth of its size
      widthPt: item.width - (item.str.length - item.str.trimEnd().length) * item.height * 0.2,
      sizePt: Math.abs(item.transform[3] as number),
    }));
  const lines = items
    .map((item) => item.str + (item.hasEOL ? '\n' : ''))
    .join('')
    .split('\n')
    .map((line) => line.trimEnd())
    .filter((line) => line !== '');
  const tree = ((await page.getStructTree()) ?? {}) as ReadNode;
  const artifacts = await artifactsOf(page);
  page.cleanup();
  return { widthPt, heightPt, texts, lines, blackAreas: await blackAreasOf(page, heightPt), tree, artifacts };
}

/** Words between marks of furniture (ISO 32000-1, 14.8.2.2). */
async function artifactsOf(page: Page): Promise<string> {
  const { items } = await page.getTextContent({ includeMarkedContent: true });
  const open: string[] = [];
  let words = '';
  for (const item of items) {
    if ('str' in item) words += open.includes('Artifact') ? item.str : '';
    else if (item.type.startsWith('begin')) open.push((item as { tag?: string }).tag ?? '');
    else open.pop();
  }
  return words;
}

/** The elements of a page's logical tree, from the top, with their roles. */
export function nodesOf(tree: ReadNode): ReadNode[] {
  return [tree, ...(tree.children ?? []).flatMap(nodesOf)];
}

type Matrix = [number, number, number, number, number, number];

/** The outlines that a page fills with black, as upright boxes from the page's upper left corner. */
async function blackAreasOf(page: Page, heightPt: number): Promise<ReadArea[]> {
  const { fnArray, argsArray } = await page.getOperatorList();
  const areas: ReadArea[] = [];
  const saved: { matrix: Matrix; black: boolean }[] = [];
  let matrix: Matrix = [1, 0, 0, 1, 0, 0];
  let black = true;
  for (const [index, operation] of fnArray.entries()) {
    const given = argsArray[index];
    if (operation === OPS.save) saved.push({ matrix, black });
    else if (operation === OPS.restore) ({ matrix, black } = saved.pop() ?? { matrix, black });
    else if (operation === OPS.transform) matrix = product(matrix, given as Matrix);
    else if (operation === OPS.setFillRGBColor) black = given[0] === '#000000';
    else if (operation === OPS.constructPath && given[0] === OPS.fill && black) {
      areas.push(...boxesOf(Array.from(given[1][0] as Float32Array), matrix, heightPt));
    }
  }
  return areas;
}

function product([a, b, c, d, e, f]: Matrix, [g, h, i, j, k, l]: Matrix): Matrix {
  return [a * g + c * h, b * g + d * h, a * i + c * j, b * i + d * j, a * k + c * l + e, b * k + d * l + f];
}

/** Path data as the reader hands it out: 0 move, 1 line (two numbers each), 2 curve (six), 3 (four), 4 close. */
const LENGTHS = [2, 2, 6, 4, 0];

function boxesOf(path: number[], [a, b, c, d, e, f]: Matrix, heightPt: number): ReadArea[] {
  const outlines: [number, number][][] = [];
  for (let at = 0; at < path.length; ) {
    const kind = path[at] ?? 4;
    const numbers = path.slice(at + 1, at + 1 + (LENGTHS[kind] ?? 0));
    if (kind === 0) outlines.push([]);
    for (let pair = 0; pair + 1 < numbers.length; pair += 2) {
      const [x = 0, y = 0] = numbers.slice(pair);
      outlines.at(-1)?.push([a * x + c * y + e, heightPt - (b * x + d * y + f)]);
    }
    at += 1 + numbers.length;
  }
  return outlines
    .filter((points) => points.length > 2)
    .map((points) => {
      const xs = points.map(([x]) => x);
      const ys = points.map(([, y]) => y);
      const [x, y] = [Math.min(...xs), Math.min(...ys)];
      return { x, y, width: Math.max(...xs) - x, height: Math.max(...ys) - y };
    });
}

/** Paints the black areas of a page as they stand, with white around them, and reads the QR code from the picture. */
export function decodeQr(page: ReadPage): string | null {
  const perPoint = 3;
  const whitePt = 12;
  const left = Math.min(...page.blackAreas.map((area) => area.x)) - whitePt;
  const top = Math.min(...page.blackAreas.map((area) => area.y)) - whitePt;
  const right = Math.max(...page.blackAreas.map((area) => area.x + area.width)) + whitePt;
  const bottom = Math.max(...page.blackAreas.map((area) => area.y + area.height)) + whitePt;
  const [width, height] = [Math.ceil((right - left) * perPoint), Math.ceil((bottom - top) * perPoint)];
  const picture = new PNG({ width, height });
  picture.data.fill(255);
  const pixel = (pt: number, from: number) => Math.round((pt - from) * perPoint);
  for (const area of page.blackAreas) {
    for (let y = pixel(area.y, top); y < pixel(area.y + area.height, top); y += 1) {
      for (let x = pixel(area.x, left); x < pixel(area.x + area.width, left); x += 1) {
        picture.data.fill(0, (y * width + x) * 4, (y * width + x) * 4 + 3);
      }
    }
  }
  return decode(new Uint8ClampedArray(picture.data), width, height)?.data ?? null;
}

/** The package's types describe a module object where its build exports the function itself. */
const decode = jsQR as unknown as (
  data: Uint8ClampedArray,
  width: number,
  height: number,
) => { data: string } | null;
