import type { Font, Subset } from 'fontkit';
import type { Shaped, ShapedGlyph, Shaper } from './shaping.ts';

/** Which way a text is to be laid; handed through the PDF library in the place of a list of font features. */
export interface Laying {
  rtl: boolean;
}

/** A glyph as the PDF library takes it. */
interface Laid {
  id: number;
  advanceWidth: number;
  codePoints: number[];
}

interface Position {
  xAdvance: number;
  yAdvance: number;
  xOffset: number;
  yOffset: number;
}

/** The same shape may stand for different characters in different places: each pair is a glyph of its own here. */
class Pairs {
  private readonly ids = new Map<string, number>();
  private readonly glyphs: number[] = [];

  idOf({ id, text }: ShapedGlyph): number {
    const key = `${id} ${text}`;
    const known = this.ids.get(key);
    if (known !== undefined) return known;
    this.glyphs.push(id);
    this.ids.set(key, this.glyphs.length - 1);
    return this.glyphs.length - 1;
  }

  glyphOf(id: number): number {
    return this.glyphs[id] ?? 0;
  }
}

/**
 * A parsed font that is laid by the shaper and embedded with what each glyph stands for where it was used, so that
 * what is copied from the paper is what was written, whatever forms the letters took.
 */
export function shapedFont(font: Font, shaper: Shaper): Font {
  const pairs = new Pairs();
  const made: Font = Object.create(font);
  // the library knows fonts by this name, and the same file may be in the document unshaped too
  Object.defineProperty(made, 'postscriptName', { value: `${font.postscriptName}-Shaped` });
  made.layout = (text, features) => {
    const { glyphs } = shaper.shape(text, (features as unknown as Laying | undefined)?.rtl ?? false);
    return asRun(glyphs, pairs, (id) => font.getGlyph(id).advanceWidth);
  };
  made.createSubset = () => ownSubset(font.createSubset(), pairs);
  return made;
}

/** What is to be text in the document; outlines are drawn beside it and only their room is kept. */
function asRun(glyphs: Shaped['glyphs'], pairs: Pairs, widthOf: (id: number) => number) {
  const laid: Laid[] = [];
  const positions: Position[] = [];
  for (const glyph of glyphs) {
    const last = positions.at(-1);
    if (glyph.text === '' && last) last.xAdvance += glyph.xAdvance;
    if (glyph.text === '') continue;
    laid.push({
      id: pairs.idOf(glyph),
      advanceWidth: widthOf(glyph.id),
      codePoints: Array.from(glyph.text, (character) => character.codePointAt(0) ?? 0),
    });
    const { xAdvance, xOffset, yOffset } = glyph;
    positions.push({ xAdvance, yAdvance: 0, xOffset, yOffset });
  }
  return { glyphs: laid, positions, advanceWidth: glyphs.reduce((sum, { xAdvance }) => sum + xAdvance, 0) };
}

/** The library's subset, but asked for pairs: a shape is in it once for each text that it stands for. */
function ownSubset(subset: Subset, pairs: Pairs): Subset {
  const places = new Map<number, number>();
  const own: Subset = Object.create(subset);
  own.includeGlyph = (pair) => {
    const known = places.get(pair);
    if (known !== undefined) return known;
    subset.glyphs.push(pairs.glyphOf(pair));
    places.set(pair, subset.glyphs.length - 1);
    return subset.glyphs.length - 1;
  };
  own.encode = () => subset.encode();
  return own;
}
