import { readFileSync } from 'node:fs';
import { create, type Font } from 'fontkit';

/** The faces of the papers: what a style may ask for. */
export type Face = 'regular' | 'bold' | 'italic' | 'boldItalic' | 'mono' | 'monoBold';

/** The faces that are really embedded: the above, and those that stand in where the above lack a character. */
export type PrintFace = Face | 'fallback' | 'fallbackBold';

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
};

/** The fallback is drawn a little smaller so that its capitals stand as high as their neighbours'. */
export const FALLBACK_SCALE = 0.935;

const parsed = new Map<PrintFace, Font>();

/** The parsed font of a face; each file is read and parsed once for the life of the process. */
export function fontOf(face: PrintFace): Font {
  const known = parsed.get(face);
  if (known) return known;
  const font = create(readFileSync(new URL(FILES[face], FOLDER)));
  settleGlyphs(font);
  parsed.set(face, font);
  return font;
}

export function fallbackOf(face: Face): PrintFace {
  return face === 'bold' || face === 'boldItalic' || face === 'monoBold' ? 'fallbackBold' : 'fallback';
}

/** True when the face has every code point of the text. */
export function serves(face: PrintFace, text: string): boolean {
  const font = fontOf(face);
  for (const character of text) {
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

const widths = new Map<string, number>();
const WIDTHS_KEPT = 20_000;

/** Width in points of a text that stays in one face, shaped exactly as it will be drawn. */
export function widthOf(text: string, face: PrintFace, sizePt: number, tabular = false): number {
  const features = featuresOf(face, tabular);
  // the PDF library shapes word by word unless features are given
  const parts = features ? [text] : (text.match(/[^ ]* |[^ ]+$/g) ?? []);
  let units = 0;
  for (const part of parts) units += unitsWide(part, face, features);
  return (units * sizePt) / fontOf(face).unitsPerEm;
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
