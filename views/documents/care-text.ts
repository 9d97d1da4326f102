import type { CareHeading } from '../../shared/species/columns.ts';
import type { SayKey, Speaker } from '../words/speaker.ts';
import { paragraph, stack } from './blocks.ts';
import { type CareSheetData, langOfPart, type Said } from './care-sheet-data.ts';
import { type CareStyles, piece } from './care-style.ts';
import { printable, type Warnings } from './characters.ts';
import { type Element, element } from './drawing.ts';
import { heightOf, type Slab } from './flow.ts';
import { bulletList } from './lists.ts';

/** The headings that stand as running text; substrate and temperature stand beside what is drawn for them. */
export const TEXT_HEADINGS: CareHeading[] = [
  'enclosure',
  'water',
  'food',
  'breeding',
  'normal',
  'not-normal',
];

/** Where the words files have the headings. */
const HEADING_WORDS = {
  enclosure: 'care.enclosure',
  substrate: 'care.substrate',
  water: 'care.water',
  food: 'care.food',
  breeding: 'care.breeding',
  temperature: 'care.temperature',
  normal: 'care.normal',
  'not-normal': 'care.notNormal',
} as const satisfies Record<CareHeading, SayKey>;

/** A heading with its text; nothing when the text is empty. */
export function careSection(
  heading: CareHeading,
  sheet: CareSheetData,
  widthPt: number,
  styles: CareStyles,
  speaker: Speaker,
  parent: Element,
  warnings: Warnings,
): Slab[] {
  const text = sheet.text[heading].trim();
  if (text === '') return [];
  const section = element('Sect', parent);
  const title = paragraph(
    [piece(speaker.say(HEADING_WORDS[heading]), styles.heading)],
    widthPt,
    element('H2', section),
    warnings,
    { gapPt: styles.body.sizePt * 0.85, keepWithNext: true },
  );
  const said = { text, lang: langOfPart(sheet, heading) };
  return [...title, ...bodySlabs(said, widthPt, styles, section, warnings)];
}

/** Running text; lines that begin with a dash or a dot become a list. */
export function bodySlabs(
  { text, lang }: Said,
  widthPt: number,
  styles: CareStyles,
  parent: Element,
  warnings: Warnings,
): Slab[] {
  const body = lang === undefined ? styles.body : { ...styles.body, lang };
  const slabs: Slab[] = [];
  let items: string[] = [];
  const closeList = () => {
    slabs.push(...bulletList(items, widthPt, body, parent, warnings, body.sizePt * 0.2));
    items = [];
  };
  for (const line of printable(text).split('\n')) {
    const item = /^\s*[-–•*]\s+(.*)$/.exec(line)?.[1];
    if (item !== undefined) {
      items.push(item);
      continue;
    }
    closeList();
    if (line.trim() === '') continue;
    const gapPt = slabs.length > 0 ? styles.body.sizePt * 0.35 : 0;
    slabs.push(...paragraph([piece(line, body)], widthPt, element('P', parent), warnings, { gapPt }));
  }
  closeList();
  return slabs;
}

/** Two columns of nearly one height, broken between sections only (`whole`) or at any line that may end a column. */
export function twoColumns(sections: Slab[][], widthPt: number, gapPt: number, whole: boolean): Slab {
  const slabs = sections.flat();
  const ends = sections.map((_section, index) => sections.slice(0, index + 1).flat().length);
  const lines = slabs.map((_slab, index) => index + 1).filter((cut) => !slabs[cut - 1]?.keepWithNext);
  const cost = (cut: number) => Math.max(heightOf(slabs.slice(0, cut)), heightOf(slabs.slice(cut)));
  const best = (whole ? ends : lines).reduce(
    (least, cut) => (cost(cut) < cost(least) ? cut : least),
    slabs.length,
  );
  const columnPt = (widthPt - gapPt) / 2;
  const [left, right] = [stack(slabs.slice(0, best)), stack(slabs.slice(best))];
  return {
    heightPt: Math.max(left.heightPt, right.heightPt),
    gapPt: 0,
    keepWithNext: false,
    draw: (xPt, yPt) => [...left.draw(xPt, yPt), ...right.draw(xPt + columnPt + gapPt, yPt)],
  };
}
