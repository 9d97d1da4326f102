import { type Speaker, speakerFor } from '../words/speaker.ts';
import { type CareEnclosure, type CareSheetData, type Said, termOf } from './care-sheet-data.ts';
import { type CareStyles, sayPiece } from './care-style.ts';
import type { Warnings } from './characters.ts';
import { asPlaced, type Element, lineMarks, type Mark, type Placed, ruleMark } from './drawing.ts';
import { type Line, wrap } from './lines.ts';
import { HAIRLINE, mm } from './paper.ts';
import type { Reader } from './print-options.ts';
import { MOIST_SHARE, type Section } from './section-geometry.ts';
import { spread } from './spread.ts';
import type { LayerArea } from './textures.ts';

export interface SideLabel {
  lines: Line[];
  heightPt: number;
}

/** Top down: the air, the free space, then the layers from the uppermost. */
export function sideLabels(
  sheet: CareSheetData,
  widthPt: number,
  reader: Reader,
  styles: CareStyles,
  warnings: Warnings,
): SideLabel[] {
  const { enclosure } = sheet;
  const speaker = speakerFor(reader);
  const depth = (lengthMm: number) => speaker.length(lengthMm, reader.units);
  const named = (name: Said, value: string) => {
    const pieces = [
      sayPiece(value === '' ? name : { ...name, text: `${name.text} ` }, styles.small),
      { text: value, style: { ...styles.small, face: 'bold' as const } },
    ];
    const lines = wrap(pieces, widthPt, warnings);
    return { lines, heightPt: lines.reduce((sum, line) => sum + line.heightPt, 0) + 3 };
  };
  return [
    named(airWords(sheet, speaker), ''),
    named({ text: speaker.say('drawing.freeSpace') }, depth(enclosure.freeHeadMm)),
    ...enclosure.layers.map((layer) => named(termOf(sheet, layer.name), depth(layer.depthMm))).reverse(),
  ];
}

function airWords(sheet: CareSheetData, speaker: Speaker): Said {
  if (sheet.enclosure.ventilation === '') return { text: speaker.say('drawing.lid') };
  const { text, lang } = termOf(sheet, sheet.enclosure.ventilation);
  return { text: speaker.say('drawing.air', { words: text }), lang };
}

interface LabelRoom {
  xPt: number;
  fromPt: number;
  toPt: number;
  widthPt: number;
}

export function labelMarks(
  labels: SideLabel[],
  section: Section,
  areas: LayerArea[],
  room: LabelRoom,
  owner: Element,
): Placed[] {
  const surface = areas.at(-1)?.topPt ?? section.floorPt;
  const wishes = [
    section.topPt - 1.4,
    (section.topPt + surface) / 2,
    ...areas.map((area) => (area.topPt + area.bottomPt) / 2).reverse(),
  ];
  const centres = spread(
    wishes,
    labels.map((label) => label.heightPt),
    room.fromPt,
    room.toPt,
  );
  const textX = section.xPt + section.widthPt + 16;
  return labels.flatMap((label, index) => {
    const wish = wishes[index] ?? 0;
    const centre = centres[index] ?? 0;
    const fromX =
      index === 0 ? section.rightAt(section.topPt) + 5 : section.rightAt(wish) - (index === 1 ? 12 : 5);
    const lead: Mark = {
      kind: 'path',
      points: [
        [fromX, wish],
        [section.xPt + section.widthPt + 7, wish],
        [textX - 3, centre],
      ],
      closed: false,
      stroke: { widthPt: HAIRLINE },
    };
    let y = centre - label.heightPt / 2 + 1.5;
    const texts = label.lines.flatMap((line) => {
      const drawn = lineMarks(line, textX, y, owner);
      y += line.heightPt;
      return drawn;
    });
    return [...asPlaced([lead], owner), ...texts];
  });
}

/** The height of the whole, as a measure with a foot and a head on the left. */
export function heightMarks(
  enclosure: CareEnclosure,
  section: Section,
  reader: Reader,
  styles: CareStyles,
  owner: Element,
  warnings: Warnings,
): Placed[] {
  const x = section.xPt - 9;
  const { topPt, floorPt } = section;
  const text = speakerFor(reader).length(enclosure.measures.heightMm, reader.units);
  const line = wrap([{ text, style: styles.small }], 60, warnings)[0];
  const middle = (topPt + floorPt) / 2;
  const marks = [
    ruleMark(x, topPt, x, floorPt, { widthPt: HAIRLINE }),
    ruleMark(x - 3, topPt, x + 3, topPt, { widthPt: HAIRLINE }),
    ruleMark(x - 3, floorPt, x + 3, floorPt, { widthPt: HAIRLINE }),
  ];
  const label = line ? lineMarks(line, x - 4 - line.widthPt, middle - line.heightPt / 2, owner) : [];
  return [...asPlaced(marks, owner), ...label];
}

export interface UnderLabel {
  line: Line;
  from: number;
  to: number;
}

/** Which part is kept moist, under the floor. */
export function underLabels(
  enclosure: CareEnclosure,
  reader: Reader,
  styles: CareStyles,
  warnings: Warnings,
): UnderLabel[] {
  if (enclosure.moistSide === 'none') return [];
  const speaker = speakerFor(reader);
  const [moist, drier] = [speaker.say('drawing.moist'), speaker.say('drawing.drier')];
  const label = (text: string, from: number, to: number) => {
    const line = wrap([{ text, style: styles.small }], 200, warnings)[0];
    return line ? [{ line, from, to }] : [];
  };
  return enclosure.moistSide === 'left'
    ? [...label(moist, 0, MOIST_SHARE), ...label(drier, MOIST_SHARE, 1)]
    : [...label(drier, 0, 1 - MOIST_SHARE), ...label(moist, 1 - MOIST_SHARE, 1)];
}

export function underMarks(labels: UnderLabel[], section: Section, owner: Element): Placed[] {
  const left = section.leftAt(section.floorPt);
  const span = section.rightAt(section.floorPt) - left;
  const y = section.floorPt + mm(2.2);
  const centres = spread(
    labels.map(({ from, to }) => left + (span * (from + to)) / 2),
    labels.map(({ line }) => line.widthPt + 6),
    left - 30,
    left + span + 30,
  );
  return labels.flatMap(({ line, from, to }, index) => {
    const [a, b] = [left + span * from + 1.5, left + span * to - 1.5];
    const bracket: Mark = {
      kind: 'path',
      points: [
        [a, y - 2.5],
        [a, y],
        [b, y],
        [b, y - 2.5],
      ],
      closed: false,
      stroke: { widthPt: HAIRLINE },
    };
    return [
      ...asPlaced([bracket], owner),
      ...lineMarks(line, (centres[index] ?? a) - line.widthPt / 2, y + 1.5, owner),
    ];
  });
}
