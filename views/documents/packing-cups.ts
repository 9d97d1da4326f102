import { framed, paragraph, row, stack } from './blocks.ts';
import type { Warnings } from './characters.ts';
import { type Element, element } from './drawing.ts';
import type { Slab } from './flow.ts';
import type { CupNote, PackingCups } from './packing-sheet-data.ts';
import { counted, speciesPieces, words } from './packing-style.ts';
import { HAIRLINE, mm } from './paper.ts';

const USUAL =
  '* common practice, no source; the owner’s own words stand in their place once they are written.';

/** Which cups each species wants, how they are aired and what lies around the animals. */
export function cupsAndPadding(
  cups: PackingCups[],
  widthPt: number,
  parent: Element,
  warnings: Warnings,
): Slab[] {
  if (cups.length === 0) return [];
  const heading = paragraph(
    [words('Cups, air and padding', 'heading')],
    widthPt,
    element('H2', parent),
    warnings,
    { gapPt: 14, keepWithNext: true },
  );
  const table = element('Table', parent);
  const rows = cups.map((each) => cupsRow(each, widthPt, table, warnings));
  if (!cups.some(({ ventilation, padding }) => ventilation.isUsual || padding.isUsual))
    return [...heading, ...rows];
  return [
    ...heading,
    ...rows.map((each, index) => ({ ...each, keepWithNext: index === rows.length - 1 })),
    ...paragraph([words(USUAL, 'label')], widthPt, element('P', parent), warnings, { gapPt: 2 }),
  ];
}

function cupsRow(cups: PackingCups, widthPt: number, table: Element, warnings: Warnings): Slab {
  const line = element('TR', table);
  const gap = mm(5);
  const left = widthPt * 0.36;
  const right = widthPt - left - gap;
  const head = element('TH', line, { scope: 'Row' });
  const cell = element('TD', line);
  const size = cups.cupName === '' ? counted(cups.count, 'cup', 'cups') : `${cups.count} × ${cups.cupName}`;
  const unknown = cups.cupName === '' ? [words(' size not set', 'label')] : [];
  const content = row([
    {
      xPt: 0,
      content: stack([
        ...paragraph([words(size, 'place'), ...unknown], left, element('P', head), warnings),
        ...paragraph(
          [words(`for ${counted(cups.animals, 'animal', 'animals')} of `, 'body')].concat(
            speciesPieces(cups.scientificName, cups.commonName),
          ),
          left,
          element('P', head),
          warnings,
        ),
      ]),
    },
    {
      xPt: left + gap,
      content: stack([
        ...note('Air', cups.ventilation, right, cell, warnings),
        ...note('Padding', cups.padding, right, cell, warnings),
      ]),
    },
  ]);
  return framed(content, widthPt, { padPt: 5, padXPt: 0, stroke: { widthPt: HAIRLINE }, sides: 'top' });
}

function note(
  what: string,
  { words: said, isUsual }: CupNote,
  widthPt: number,
  cell: Element,
  warnings: Warnings,
) {
  const mark = isUsual ? [words(' *', 'strong')] : [];
  return paragraph(
    [words(`${what}: `, 'strong'), words(said, 'body'), ...mark],
    widthPt,
    element('P', cell),
    warnings,
    { gapPt: 1 },
  );
}
