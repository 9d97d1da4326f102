import { readFileSync } from 'node:fs';
import { brotliDecompressSync } from 'node:zlib';
import { create, type Font } from 'fontkit';
import { shapedFont } from './shaped-font.ts';
import { type Shaper, shaperFor } from './shaping.ts';

/** The faces of the papers: what a style may ask for. */
export type Face = 'regular' | 'bold' | 'italic' | 'boldItalic' | 'mono' | 'monoBold';

/** The faces that are laid by the shaper, each for its script. */
export type ScriptFace =
  | 'arabic'
  | 'arabicBold'
  | 'hebrew'
  | 'hebrewBold'
  | 'thai'
  | 'thaiBold'
  | 'devanagari'
  | 'devanagariBold'
  | 'japanese'
  | 'simplified'
  | 'traditional'
  | 'korean';

/** The faces that are really embedded: the above, and those that stand in where the above lack a character. */
export type PrintFace = Face | 'fallback' | 'fallbackBold' | ScriptFace;

const FOLDER = new URL('../../static/fonts/print/', import.meta.url);
const FILES: Record<PrintFace, string> = {
  regular: 'AtkinsonHyperlegibleNext_400Regular.ttf',
  bold: 'AtkinsonHyperlegibleNext_700Bold.ttf',
  italic: 'AtkinsonHyperlegibleNext_400Regular_Italic.ttf',
  boldItalic: 'AtkinsonHyperlegibleNext_700Bold_Italic.ttf',
  mono: 'AtkinsonHyperlegibleMono_400Regular.ttf',
  monoBold: 'AtkinsonHyperlegibleMono_700Bold.ttf',
  fallback: 'NotoSans_400Regular.ttf',
  fallbackBold: 'NotoSans_700Bold.ttf',
  arabic: 'NotoSansArabic_400Regular.ttf',
  arabicBold: 'NotoSansArabic_700Bold.ttf',
  hebrew: 'NotoSansHebrew_400Regular.ttf',
  hebrewBold: 'NotoSansHebrew_700Bold.ttf',
  thai: 'NotoSansThai_400Regular.ttf',
  thaiBold: 'NotoSansThai_700Bold.ttf',
  devanagari: 'NotoSans_400Regular.ttf',
  devanagariBold: 'NotoSans_700Bold.ttf',
  japanese: 'NotoSansJP_400Regular.ttf.br',
  simplified: 'NotoSansSC_400Regular.ttf.br',
  traditional: 'NotoSansTC_400Regular.ttf.br',
  korean: 'NotoSansKR_400Regular.ttf.br',
};

/** The fallbacks are drawn a little smaller so that their capitals stand as high as their neighbours'. */
export const FALLBACK_SCALE = 0.935;

const PLAIN: ReadonlySet<PrintFace> = new Set<PrintFace>([
  'regular',
  'bold',
  'italic',
  'boldItalic',
  'mono',
  'monoBold',
  'fallback',
  'fallbackBold',
]);

/** Whether a face needs the shaper whatever stands in it. */
export const isScriptFace = (face: PrintFace): face is ScriptFace => !PLAIN.has(face);

/** Faces that have one weight only: bold is made by an outline. */
const ONE_WEIGHT: ReadonlySet<PrintFace> = new Set<PrintFace>([
  'japanese',
  'simplified',
  'traditional',
  'korean',
]);

export const hasOneWeight = (face: PrintFace): boolean => ONE_WEIGHT.has(face);

export const isBold = (face: Face): boolean =>
  face === 'bold' || face === 'boldItalic' || face === 'monoBold';

/** Files are large and shared by faces: each is read once, and only when a paper needs it. */
const files = new Map<string, Buffer>();

function fileOf(face: PrintFace): Buffer {
  const name = FILES[face];
  const known = files.get(name);
  if (known) return known;
  const stored = readFileSync(new URL(name, FOLDER));
  const read = name.endsWith('.br') ? brotliDecompressSync(stored) : stored;
  files.set(name, read);
  return read;
}

const parsed = new Map<PrintFace, Font>();

/** The parsed font of a face; each file is read and parsed once for the life of the process. */
export function fontOf(face: PrintFace): Font {
  const known = parsed.get(face);
  if (known) return known;
  const font = create(fileOf(face));
  if (!isScriptFace(face)) settleGlyphs(font);
  parsed.set(face, font);
  return font;
}

interface ShapedFace {
  font: Font;
  shaper: Shaper;
}

const shaped = new Map<PrintFace, ShapedFace>();

/** A face with its shaper: for scripts that need one, and for what stands between words from right to left. */
export function shapedFaceOf(face: PrintFace): ShapedFace {
  const known = shaped.get(face);
  if (known) return known;
  const shaper = shaperFor(fileOf(face));
  const made = { shaper, font: shapedFont(fontOf(face), shaper) };
  shaped.set(face, made);
  return made;
}

export function fallbackOf(face: Face): PrintFace {
  return isBold(face) ? 'fallbackBold' : 'fallback';
}

/** Joiners and isolates say how their neighbours are set; they have no shape themselves. */
export const SHAPELESS = /\u200c|\u200d|[\u2066-\u2069]/g;

/** True when the face has every code point of the text. */
export function serves(face: PrintFace, text: string): boolean {
  const font = fontOf(face);
  for (const character of text.replace(SHAPELESS, '')) {
    if (!font.hasGlyphForCodePoint(character.codePointAt(0) ?? 0)) return false;
  }
  return true;
}

/**
 * A parsed font remembers for each glyph the characters it was first asked for, and the PDF's text layer is made from
 * that memory. Asking for all of them here, in one order, keeps every document independent of those printed before.
 * Ready-made f-ligatures are left out: they are reached from plain letters and must read back as plain letters.
 */
function settleGlyphs(font: Font): void {
  for (const codePoint of font.characterSet) {
    if (codePoint < 0xfb00 || codePoint > 0xfb06) font.glyphForCodePoint(codePoint);
  }
}

/**
 * OpenType features beside the usual ones. The fallback keeps each letter in one glyph (no ligatures, no taking apart
 * of letters and marks), so that names read back from the paper as they were written.
 */
export function featuresOf(
  face: PrintFace,
  tabular: boolean,
): string[] | Record<string, boolean> | undefined {
  if (face === 'fallback' || face === 'fallbackBold') return { ccmp: false, liga: false };
  return tabular && !face.startsWith('mono') ? ['tnum'] : undefined;
}

const ems = new Map<PrintFace, number>();

/** Asked for once: the font looks it up in its tables each time. */
function unitsPerEm(face: PrintFace): number {
  const known = ems.get(face);
  if (known !== undefined) return known;
  const found = fontOf(face).unitsPerEm;
  ems.set(face, found);
  return found;
}

const widths = new Map<string, number>();
const WIDTHS_KEPT = 20_000;

/** How a text is to be measured and drawn. */
export interface Manner {
  face: PrintFace;
  sizePt: number;
  tabular: boolean;
}

/** Width in points of a text that stays in one face and one direction, shaped exactly as it will be drawn. */
export function widthOf(text: string, { face, sizePt, tabular }: Manner, rtl = false): number {
  if (rtl || isScriptFace(face)) {
    const { advanceWidth } = shapedFaceOf(face).shaper.shape(text, rtl);
    return (advanceWidth * sizePt) / unitsPerEm(face);
  }
  const features = featuresOf(face, tabular);
  // the PDF library shapes word by word unless features are given
  const parts = features ? [text] : (text.match(/[^ ]* |[^ ]+$/g) ?? []);
  let units = 0;
  for (const part of parts) units += unitsWide(part, face, features);
  return (units * sizePt) / unitsPerEm(face);
}

function unitsWide(text: string, face: PrintFace, features: ReturnType<typeof featuresOf>): number {
  const key = `${face}${features ? '#' : ' '}${text}`;
  const known = widths.get(key);
  if (known !== undefined) return known;
  if (widths.size >= WIDTHS_KEPT) widths.clear();
  const width = fontOf(face).layout(text, features).advanceWidth;
  widths.set(key, width);
  return width;
}
