import { framed, paragraph, stack } from './blocks.ts';
import type { Warnings } from './characters.ts';
import { asPlaced, type Element, element, lineMarks } from './drawing.ts';
import type { Slab } from './flow.ts';
import { wrap } from './lines.ts';
import { checkBox, writeLine } from './marks.ts';
import { words } from './packing-style.ts';
import { mm, RULE } from './paper.ts';
import type { Reader } from './print-options.ts';

/** A prompt and a line to write on, as a share of the row's width; `box` puts a box to tick before it. */
interface Blank {
  prompt: string;
  share: number;
  after?: string;
  box?: boolean;
}

const ROW_PT = mm(10.5);

const CAUTIONS = [
  'Live animals: upright, out of the sun, off the floor, never left in a closed car.',
  'A heat pack burns skin and uses up oxygen: wrap it, keep it off the cups, leave it air.',
  'Gel packs and dry ice freeze skin and animals; dry ice also drives out air. Never against a cup.',
  'No heat pack where the parcel may get too warm, no cold pack where it may get too cold.',
  'Outside the limits above the parcel waits. Local law, the carrier and licensed practice decide.',
];

/** Room for what is decided at the bench, where no box, pack and day were chosen before. */
export function benchForm(widthPt: number, reader: Reader, parent: Element, warnings: Warnings): Slab[] {
  const padPt = mm(4);
  const inside = widthPt - 2 * padPt;
  const unit = reader.units === 'us' ? '°F' : '°C';
  const section = element('Sect', parent);
  const title = paragraph(
    [words('Weather and packs', 'heading'), words('  fill in at the bench', 'body')],
    inside,
    element('H2', section),
    warnings,
    { keepWithNext: true },
  );
  const make = (blanks: Blank[]) => blankRow(blanks, inside, section, warnings);
  const rows = [
    make([
      { prompt: 'Coldest outside on the way', share: 0.5, after: unit },
      { prompt: 'Warmest outside on the way', share: 0.5, after: unit },
    ]),
    make([
      { prompt: 'Heat pack, how many', share: 0.5, box: true },
      { prompt: 'Cold pack, how many', share: 0.5, box: true },
    ]),
    make([
      { prompt: 'Held for pickup at', share: 0.65, box: true },
      { prompt: 'Box', share: 0.35 },
    ]),
  ];
  const form = stack([...title, ...rows]);
  const frame = { padPt, stroke: { widthPt: RULE }, sides: 'all' as const };
  return [framed(form, widthPt, frame, { gapPt: 18 })];
}

/** What to mind with every parcel. */
export function benchCautions(widthPt: number, parent: Element, warnings: Warnings): Slab[] {
  const padPt = mm(3);
  const section = element('Sect', parent);
  const inside = widthPt - 2 * padPt;
  const list = CAUTIONS.flatMap((caution) =>
    paragraph([words(caution, 'body')], inside, element('P', section), warnings, { gapPt: 1 }),
  );
  const frame = { padPt, stroke: { widthPt: RULE }, sides: 'all' as const };
  return [framed(stack(list), widthPt, frame, { gapPt: 14, keepWithNext: true })];
}

/** Who packed and who checked, and when. */
export function signatures(widthPt: number, parent: Element, warnings: Warnings): Slab {
  const section = element('Sect', parent);
  const signed = (prompt: string): Blank[] => [
    { prompt, share: 0.68 },
    { prompt: 'Time', share: 0.32 },
  ];
  return stack(
    ['Packed by', 'Checked by'].map((prompt) => blankRow(signed(prompt), widthPt, section, warnings)),
    { gapPt: mm(1) },
  );
}

function blankRow(blanks: Blank[], widthPt: number, parent: Element, warnings: Warnings): Slab {
  const between = mm(6);
  const room = widthPt - between * (blanks.length - 1);
  let left = 0;
  const drawers = blanks.map((blank) => {
    const at = left;
    left += room * blank.share + between;
    return blankDrawer(blank, at, room * blank.share, parent, warnings);
  });
  return {
    heightPt: ROW_PT,
    gapPt: 0,
    keepWithNext: true,
    draw: (xPt, yPt) => drawers.flatMap((draw) => draw(xPt, yPt)),
  };
}

function blankDrawer(
  blank: Blank,
  atPt: number,
  widthPt: number,
  parent: Element,
  warnings: Warnings,
): Slab['draw'] {
  const owner = element('P', parent);
  const prompt = wrap([words(blank.prompt, 'body')], widthPt, warnings)[0];
  const after = blank.after ? wrap([words(blank.after, 'body')], widthPt, warnings)[0] : undefined;
  const boxPt = blank.box ? 14 + 6 : 0;
  return (xPt, yPt) => {
    const base = yPt + ROW_PT - 3;
    const start = xPt + atPt;
    const promptEnd = start + boxPt + (prompt?.widthPt ?? 0);
    const lineEnd = start + widthPt - (after ? after.widthPt + 4 : 0);
    const marks = [writeLine(promptEnd + 5, lineEnd, base)];
    if (blank.box) marks.push(checkBox(14, start + 0.5, base - 13));
    return [
      ...asPlaced(marks, null),
      ...(prompt ? lineMarks(prompt, start + boxPt, base - prompt.baselinePt, owner) : []),
      ...(after ? lineMarks(after, lineEnd + 4, base - after.baselinePt, owner) : []),
    ];
  };
}
