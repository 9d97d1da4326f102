/** The few parts of fontkit that the documents use; the package brings no types of its own. */
declare module 'fontkit' {
  export interface Run {
    advanceWidth: number;
    glyphs: { id: number }[];
  }
  export interface Subset {
    /** The glyphs of the font that are in it, in order; parts of composed glyphs are added when it is encoded. */
    glyphs: number[];
    includeGlyph(id: number): number;
    encode(): Uint8Array;
  }
  export interface Font {
    postscriptName: string;
    unitsPerEm: number;
    ascent: number;
    descent: number;
    capHeight: number;
    xHeight: number;
    characterSet: number[];
    hasGlyphForCodePoint(codePoint: number): boolean;
    glyphForCodePoint(codePoint: number): { id: number };
    getGlyph(id: number): { advanceWidth: number };
    layout(text: string, features?: string[] | Record<string, boolean>): Run;
    createSubset(): Subset;
  }
  export function create(data: Uint8Array): Font;
}
