import { Blob, Buffer, BufferFlag, Direction, Face, Font, shape } from 'harfbuzzjs';

/** One glyph of a shaped text, in units of its font and in the order in which it stands on paper, left to right. */
export interface ShapedGlyph {
  id: number;
  /** The characters it stands for. Empty for a dot or mark that belongs to its neighbour: it is drawn as an outline. */
  text: string;
  xAdvance: number;
  xOffset: number;
  yOffset: number;
}

export interface Shaped {
  glyphs: ShapedGlyph[];
  advanceWidth: number;
}

/** Shapes text with one font: joining, reordering, ligatures, marks (OpenType, by HarfBuzz). */
export interface Shaper {
  shape(text: string, rtl: boolean): Shaped;
  /** The outline of a glyph as path data, in units of the font, y up. */
  outlineOf(id: number): string;
}

const KEPT = 5000;

export function shaperFor(file: Uint8Array): Shaper {
  const font = new Font(new Face(new Blob(Uint8Array.from(file).buffer)));
  const known = new Map<string, Shaped>();
  return {
    shape(text, rtl) {
      const key = `${rtl ? '<' : '>'}${text}`;
      const before = known.get(key);
      if (before) return before;
      if (known.size >= KEPT) known.clear();
      const made = shapeWith(font, text, rtl);
      known.set(key, made);
      return made;
    },
    outlineOf: (id) => font.glyphToPath(id),
  };
}

function shapeWith(font: Font, text: string, rtl: boolean): Shaped {
  const buffer = new Buffer();
  buffer.addText(text);
  buffer.setFlags(BufferFlag.REMOVE_DEFAULT_IGNORABLES);
  buffer.guessSegmentProperties();
  buffer.setDirection(rtl ? Direction.RTL : Direction.LTR);
  shape(font, buffer);
  const positions = buffer.getGlyphPositions();
  const found = buffer.getGlyphInfos().map(({ codepoint, cluster }, index) => {
    const { xAdvance = 0, xOffset = 0, yOffset = 0 } = positions[index] ?? {};
    return { id: codepoint, cluster, xAdvance, xOffset, yOffset };
  });
  const texts = textsOf(text, found);
  const glyphs = found.map(({ cluster: _cluster, ...glyph }, index) => ({
    ...glyph,
    text: texts[index] ?? '',
  }));
  return { glyphs, advanceWidth: glyphs.reduce((sum, glyph) => sum + glyph.xAdvance, 0) };
}

/**
 * Which characters each glyph stands for, so that the text reads back as it was written. The glyphs of a cluster get its
 * characters one by one in the order of writing, the last of them what is left over. Where there are more glyphs than
 * characters, those that take room come first, then the marks from the end: dots that a letter was taken apart into get
 * none.
 *
 * @example textsOf('ab', [{ cluster: 0, xAdvance: 500 }]) // ['ab']
 */
export function textsOf(text: string, glyphs: readonly { cluster: number; xAdvance: number }[]): string[] {
  const starts = [...new Set(glyphs.map(({ cluster }) => cluster))].sort((a, b) => a - b);
  const backwards = (glyphs[0]?.cluster ?? 0) > (glyphs.at(-1)?.cluster ?? 0);
  const texts = glyphs.map(() => '');
  for (const [at, start] of starts.entries()) {
    const characters = Array.from(text.slice(start, starts[at + 1] ?? text.length));
    const all = glyphs.flatMap(({ cluster }, index) => (cluster === start ? [index] : []));
    if (backwards) all.reverse();
    const takesRoom = (index: number) => (glyphs[index]?.xAdvance ?? 0) > 0;
    const wanted = [...all.filter(takesRoom), ...all.filter((index) => !takesRoom(index)).reverse()];
    const chosen = new Set(wanted.slice(0, characters.length));
    const places = all.filter((index) => chosen.has(index));
    for (const [order, place] of places.entries()) {
      const last = order === places.length - 1;
      texts[place] = last ? characters.slice(order).join('') : (characters[order] ?? '');
    }
  }
  return texts;
}
