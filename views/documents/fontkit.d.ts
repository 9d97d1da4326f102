/** The few parts of fontkit that the documents use; the package brings no types of its own. */
declare module 'fontkit' {
  export interface Run {
    advanceWidth: number;
    glyphs: { id: number }[];
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
    layout(text: string, features?: string[] | Record<string, boolean>): Run;
  }
  export function create(data: Uint8Array): Font;
}
