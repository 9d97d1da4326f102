import { framed, paragraph, row, stack } from './blocks.ts';
import type { Warnings } from './characters.ts';
import { asPlaced, type Element, element } from './drawing.ts';
import type { Slab } from './flow.ts';
import { shrinkToLine, widthOfPieces } from './lines.ts';
import { checkBox, writeLine } from './marks.ts';
import type { PackingPick } from './packing-sheet-data.ts';
import { counted, speciesPieces, words } from './packing-style.ts';
import { animalsOf, totalsOf } from './packing-totals.ts';
import { HAIRLINE, mm, RULE } from './paper.ts';

interface Columns {
  box: number;
  culture: { xPt: number; widthPt: number };
  take: { xPt: number; widthPt: number };
  cups: { xPt: number; widthPt: number };
  by: { xPt: number; widthPt: number };
}

const BOX_PT = 21;

function columnsOf(widthPt: number): Columns {
  const gap = mm(4);
  const first = BOX_PT + mm(4);
  const by = mm(18);
  const rest = widthPt - first - 3 * gap - by;
  const [culture, take] = [rest * 0.42, rest * 0.17];
  return {
    box: 0,
    culture: { xPt: first, widthPt: culture },
    take: { xPt: first + culture + gap, widthPt: take },
    cups: { xPt: first + culture + take + 2 * gap, widthPt: rest - culture - take },
    by: { xPt: widthPt - by, widthPt: by },
  };
}

/** The pick list as a table, one row for each culture, in the order given, and what it adds up to. */
export function pickList(picks: PackingPick[], widthPt: number, parent: Element, warnings: Warnings): Slab[] {
  const heading = paragraph([words('Pick list', 'heading')], widthPt, element('H2', parent), warnings, {
    gapPt: 14,
    keepWithNext: true,
  });
  if (picks.length === 0) {
    const none = 'No culture is allocated to this order yet. Do not pack it.';
    return [...heading, ...paragraph([words(none, 'body')], widthPt, element('P', parent), warnings)];
  }
  const table = element('Table', parent);
  const columns = columnsOf(widthPt);
  return [
    ...heading,
    headRow(columns, table, warnings),
    ...picks.map((pick, index) => ({
      ...pickRow(pick, columns, widthPt, table, warnings),
      // what it adds up to never stands alone on a page
      keepWithNext: index === picks.length - 1,
    })),
    totalsRow(picks, widthPt, parent, warnings),
  ];
}

function headRow(columns: Columns, table: Element, warnings: Warnings): Slab {
  const line = element('TR', table);
  const head = (text: string, widthPt: number) =>
    stack(paragraph([words(text, 'label')], widthPt, element('TH', line, { scope: 'Column' }), warnings));
  return row(
    [
      { xPt: columns.culture.xPt, content: head('Take from', columns.culture.widthPt) },
      { xPt: columns.take.xPt, content: head('Take', columns.take.widthPt) },
      { xPt: columns.cups.xPt, content: head('Put in, and write', columns.cups.widthPt) },
      { xPt: columns.by.xPt, content: head('Initials,\ntime', columns.by.widthPt) },
    ],
    { gapPt: 2, keepWithNext: true },
  );
}

function pickRow(
  pick: PackingPick,
  columns: Columns,
  widthPt: number,
  table: Element,
  warnings: Warnings,
): Slab {
  const line = element('TR', table);
  const content = row([
    { xPt: columns.box, content: box() },
    { xPt: columns.culture.xPt, content: cultureCell(pick, columns.culture.widthPt, line, warnings) },
    { xPt: columns.take.xPt, content: takeCell(pick, columns.take.widthPt, line, warnings) },
    { xPt: columns.cups.xPt, content: cupsCell(pick, columns.cups.widthPt, line, warnings) },
    { xPt: columns.by.xPt, content: byCell(columns.by.widthPt, line) },
  ]);
  return framed(content, widthPt, { padPt: 6, padXPt: 0, stroke: { widthPt: HAIRLINE }, sides: 'top' });
}

function box(): Slab {
  return {
    heightPt: BOX_PT + 4,
    gapPt: 0,
    keepWithNext: false,
    draw: (xPt, yPt) => asPlaced([checkBox(BOX_PT, xPt + 1, yPt + 2)], null),
  };
}

/** Two lines to write on: who took them, and when. */
function byCell(widthPt: number, line: Element): Slab {
  element('TD', line);
  const linePt = mm(9);
  return {
    heightPt: 2 * linePt,
    gapPt: 0,
    keepWithNext: false,
    draw: (xPt, yPt) =>
      asPlaced(
        [1, 2].map((n) => writeLine(xPt, xPt + widthPt, yPt + n * linePt - 2)),
        null,
      ),
  };
}

function cultureCell(pick: PackingPick, widthPt: number, line: Element, warnings: Warnings): Slab {
  const cell = element('TH', line, { scope: 'Row' });
  const code = shrinkToLine([words(pick.cultureCode, 'code')], widthPt, 0.6, warnings);
  const species = speciesPieces(pick.scientificName, pick.commonName);
  return stack([
    ...paragraph(code, widthPt, element('P', cell), warnings),
    ...paragraph([words(pick.place, 'place')], widthPt, element('P', cell), warnings, { gapPt: 1 }),
    ...paragraph(species, widthPt, element('P', cell), warnings, { gapPt: 3 }),
    ...optional(pick.line === '' ? '' : `Line ${pick.line}`, widthPt, cell, warnings),
    ...optional(pick.note, widthPt, cell, warnings),
  ]);
}

function optional(text: string, widthPt: number, cell: Element, warnings: Warnings): Slab[] {
  if (text === '') return [];
  return paragraph([words(text, 'body')], widthPt, element('P', cell), warnings, { gapPt: 2 });
}

function takeCell(pick: PackingPick, widthPt: number, line: Element, warnings: Warnings): Slab {
  const cell = element('TD', line);
  const animals = animalsOf(pick);
  return stack([
    ...paragraph(
      shrinkToLine([words(String(animals), 'figure')], widthPt, 0.4, warnings),
      widthPt,
      element('P', cell),
      warnings,
    ),
    ...paragraph(
      [words(animals === 1 ? 'animal' : 'animals', 'body')],
      widthPt,
      element('P', cell),
      warnings,
    ),
    ...paragraph(
      [words(counted(pick.groups, 'group', 'groups'), 'body')],
      widthPt,
      element('P', cell),
      warnings,
    ),
  ]);
}

function cupsCell(pick: PackingPick, widthPt: number, line: Element, warnings: Warnings): Slab {
  const cell = element('TD', line);
  const padPt = 5;
  const times = pick.cups === pick.groups ? 1 : pick.groups;
  const extras = pick.perGroup.extras * times;
  const label = () =>
    framed(
      stack(paragraph([words(pick.cupLabel, 'body')], widthPt - 2 * padPt, element('P', cell), warnings)),
      widthPt,
      { padPt: 4, padXPt: padPt, stroke: { widthPt: RULE }, sides: 'all' },
      { gapPt: 4 },
    );
  return stack([
    ...cupLine(pick, widthPt, cell, warnings),
    ...paragraph([words(makeUpWords(pick, times), 'makeUp')], widthPt, element('P', cell), warnings, {
      gapPt: 1,
    }),
    ...optional(extras > 0 ? `+ ${extras}\u00a0extra for losses` : '', widthPt, cell, warnings),
    ...(pick.cupLabel === '' ? [] : [label()]),
  ]);
}

/** How many cups, with a small box for each to tick; the boxes go below when they do not fit beside the words. */
function cupLine(pick: PackingPick, widthPt: number, cell: Element, warnings: Warnings): Slab[] {
  const said = [words(cupWords(pick), 'body')];
  const wordsPt = widthOfPieces(said, warnings) + 8;
  const text = paragraph(said, widthPt, element('P', cell), warnings);
  if (pick.cups < 2) return text;
  const below = cupBoxes(pick.cups, widthPt);
  // fewer boxes than cups would mislead: a great many cups have the one large box only
  if (below.rows > MOST_BOX_ROWS) return text;
  const beside = cupBoxes(pick.cups, widthPt - wordsPt);
  if (text.length > 1 || wordsPt + beside.widthPt > widthPt || beside.rows > 1) {
    return [...text, { ...below, gapPt: 3 }];
  }
  return [
    row([
      { xPt: 0, content: stack(text) },
      { xPt: wordsPt, content: beside },
    ]),
  ];
}

function cupWords(pick: PackingPick): string {
  const cups = counted(pick.cups, 'cup', 'cups');
  if (pick.cups === pick.groups) return pick.cups === 1 ? `${cups} with` : `${cups}, in each`;
  return `${counted(pick.groups, 'group', 'groups')} in ${cups}, in all`;
}

/** The make-up of one cup where each group has its own, else of all that is taken. */
function makeUpWords(pick: PackingPick, times: number): string {
  const { adults, juveniles } = pick.perGroup;
  const parts = [
    adults > 0 ? counted(adults * times, 'adult', 'adults') : '',
    juveniles > 0 ? counted(juveniles * times, 'juvenile', 'juveniles') : '',
  ].filter((part) => part !== '');
  return parts.length > 0 ? parts.join(' + ') : 'no animals';
}

const CUP_BOX_PT = 11;
const CUP_PITCH_PT = CUP_BOX_PT + 6;
const MOST_BOX_ROWS = 3;

/** A small box for each cup that is filled and written on. */
function cupBoxes(cups: number, widthPt: number): Slab & { widthPt: number; rows: number } {
  const perRow = Math.max(1, Math.floor((widthPt + 6) / CUP_PITCH_PT));
  const rows = Math.ceil(cups / perRow);
  const at = (index: number, xPt: number, yPt: number) =>
    checkBox(
      CUP_BOX_PT,
      xPt + 0.5 + (index % perRow) * CUP_PITCH_PT,
      yPt + 2 + Math.floor(index / perRow) * CUP_PITCH_PT,
    );
  return {
    widthPt: Math.min(cups, perRow) * CUP_PITCH_PT - 6 + 1,
    rows,
    heightPt: rows * CUP_PITCH_PT - 6 + 4,
    gapPt: 0,
    keepWithNext: false,
    draw: (xPt, yPt) =>
      asPlaced(
        Array.from({ length: cups }, (_each, index) => at(index, xPt, yPt)),
        null,
      ),
  };
}

function totalsRow(picks: PackingPick[], widthPt: number, parent: Element, warnings: Warnings): Slab {
  const { cultures, cups, animals, ordered, extras } = totalsOf(picks);
  const detail = extras > 0 ? ` (${ordered} ordered + ${extras} extra for losses)` : '';
  const text = `In all ${counted(cups, 'cup', 'cups')}, ${counted(animals, 'animal', 'animals')}`;
  const from = ` from ${counted(cultures, 'culture', 'cultures')}.`;
  const content = paragraph(
    [words(text, 'place'), words(detail + from, 'body')],
    widthPt,
    element('P', parent),
    warnings,
  );
  return framed(stack(content), widthPt, { padPt: 7, padXPt: 0, stroke: { widthPt: RULE }, sides: 'top' });
}
