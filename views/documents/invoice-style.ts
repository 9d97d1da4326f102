import type { Speaker } from '../words/speaker.ts';
import type { Warnings } from './characters.ts';
import type { TextStyle } from './lines.ts';

/** Read at a desk, and filed. */
export const INVOICE = {
  title: { face: 'bold', sizePt: 20, leading: 1.2 },
  heading: { face: 'bold', sizePt: 12, leading: 1.3 },
  body: { face: 'regular', sizePt: 10.5, leading: 1.35 },
  strong: { face: 'bold', sizePt: 10.5, leading: 1.35 },
  latin: { face: 'italic', sizePt: 10.5, leading: 1.35, lang: 'la' },
  label: { face: 'regular', sizePt: 9, leading: 1.3 },
  figure: { face: 'regular', sizePt: 10.5, leading: 1.35, tabular: true },
  sum: { face: 'bold', sizePt: 12, leading: 1.35, tabular: true },
} satisfies Record<string, TextStyle>;

/** What every part of the paper needs. */
export type Desk = { say: Speaker; widthPt: number; warnings: Warnings; currency: string };
