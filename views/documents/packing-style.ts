import type { Piece, TextStyle } from './lines.ts';

/** The type of the bench papers: read at arm's length in a dim room, so nothing that is needed stands under 11 pt. */
export const BENCH = {
  label: { face: 'regular', sizePt: 10 },
  body: { face: 'regular', sizePt: 12 },
  strong: { face: 'bold', sizePt: 12 },
  limit: { face: 'bold', sizePt: 10 },
  latin: { face: 'italic', sizePt: 12, lang: 'la' },
  place: { face: 'bold', sizePt: 14 },
  makeUp: { face: 'bold', sizePt: 14, tabular: true },
  code: { face: 'monoBold', sizePt: 23, leading: 1.1 },
  figure: { face: 'bold', sizePt: 25, leading: 1.05, tabular: true },
  order: { face: 'monoBold', sizePt: 30, leading: 1.1 },
  heading: { face: 'bold', sizePt: 14 },
} satisfies Record<string, TextStyle>;

export type BenchStyle = keyof typeof BENCH;

export function words(text: string, style: BenchStyle): Piece {
  return { text, style: BENCH[style] };
}

/** Scientific name in italics, then the common name. */
export function speciesPieces(
  scientificName: string,
  commonName: string,
  common: BenchStyle = 'body',
): Piece[] {
  const latin = words(scientificName, 'latin');
  return commonName === '' ? [latin] : [latin, words(` ${commonName}`, common)];
}

/** `1 cup`, `3 cups`. */
export function counted(count: number, one: string, many: string): string {
  return `${count}\u00a0${count === 1 ? one : many}`;
}
