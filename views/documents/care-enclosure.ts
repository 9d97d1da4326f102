import type { EnclosureMeasures } from '../../shared/enclosures/volume.ts';
import { speakerFor } from '../words/speaker.ts';
import { heightMarks, labelMarks, sideLabels, underLabels, underMarks } from './care-enclosure-labels.ts';
import { type CareEnclosure, type CareSheetData, termOf } from './care-sheet-data.ts';
import type { CareStyles } from './care-style.ts';
import type { Warnings } from './characters.ts';
import { asPlaced, type Element, type Mark, ruleMark } from './drawing.ts';
import type { Slab } from './flow.ts';
import { mm, RULE } from './paper.ts';
import type { Reader } from './print-options.ts';
import { layerAreas, MOIST_SHARE, type Section, scaleFor, sectionOf } from './section-geometry.ts';
import { dropMarks, type LayerArea, textureMark } from './textures.ts';

export interface DrawingRoom {
  widthPt: number;
  /** Of the enclosure itself at most; labels under it come on top. */
  heightPt: number;
}

/** Space beside the enclosure: for its height on the left, for the names of its layers on the right. */
const LEFT_PT = 40;
const LABEL_SHARE = 0.34;
const LID_PT = 12;

/** Inside measures in words, such as `30 × 20 cm, 20 cm high`. */
export function measuresInWords(measures: EnclosureMeasures, reader: Reader): string {
  const speaker = speakerFor(reader);
  const length = (lengthMm: number) => speaker.length(lengthMm, reader.units);
  const high = speaker.say('drawing.high', { length: length(measures.heightMm) });
  if (measures.shape === 'box') return `${length(measures.lengthMm)} × ${length(measures.widthMm)}, ${high}`;
  if (measures.shape === 'cylinder')
    return speaker.say('drawing.across', { diameter: length(measures.diameterMm), high });
  const [top, bottom] = [length(measures.topDiameterMm), length(measures.bottomDiameterMm)];
  return speaker.say('drawing.acrossTopAndBottom', { top, bottom, high });
}

/** What the drawing shows, for those who cannot see it. */
export function sectionInWords(sheet: CareSheetData, reader: Reader): string {
  const { enclosure } = sheet;
  const speaker = speakerFor(reader);
  const depth = (lengthMm: number) => speaker.length(lengthMm, reader.units);
  const layers = enclosure.layers.map((layer) =>
    speaker.say('drawing.layer', { name: termOf(sheet, layer.name).text, depth: depth(layer.depthMm) }),
  );
  const free = speaker.say('drawing.free', { depth: depth(enclosure.freeHeadMm) });
  return [
    speaker.say('drawing.section', {
      measures: measuresInWords(enclosure.measures, reader),
      layers: [...layers, free].join('; '),
    }),
    enclosure.ventilation === ''
      ? ''
      : speaker.say('drawing.ventilation', {
          words: termOf(sheet, enclosure.ventilation).text.replace(/\.$/, ''),
        }),
    enclosure.moistSide === 'left' ? speaker.say('drawing.moistLeft') : '',
    enclosure.moistSide === 'right' ? speaker.say('drawing.moistRight') : '',
  ]
    .filter((each) => each !== '')
    .join(' ');
}

/** The enclosure cut through the middle, to scale, with the depth of each layer beside it. */
export function enclosureDrawing(
  sheet: CareSheetData,
  room: DrawingRoom,
  reader: Reader,
  styles: CareStyles,
  owner: Element,
  warnings: Warnings,
): Slab {
  const { enclosure } = sheet;
  const labelPt = room.widthPt * LABEL_SHARE;
  const drawPt = room.widthPt - LEFT_PT - labelPt;
  const pointsPerMm = scaleFor(enclosure.measures, drawPt, room.heightPt);
  const labels = sideLabels(sheet, labelPt - 14, reader, styles, warnings);
  const under = underLabels(enclosure, reader, styles, warnings);
  const underPt = under.length > 0 ? mm(3) + Math.max(...under.map(({ line }) => line.heightPt)) : mm(1);
  const bodyPt = Math.max(
    enclosure.measures.heightMm * pointsPerMm + LID_PT,
    labels.reduce((sum, label) => sum + label.heightPt, 0),
  );
  return {
    heightPt: bodyPt + underPt,
    gapPt: 0,
    keepWithNext: false,
    draw: (xPt, yPt) => {
      owner.box = [xPt, yPt, xPt + room.widthPt, yPt + bodyPt + underPt];
      // a flat enclosure stands in the middle of its labels
      const spare = bodyPt - LID_PT - enclosure.measures.heightMm * pointsPerMm;
      const topPt = yPt + LID_PT + spare / 2;
      const section = sectionOf(enclosure.measures, pointsPerMm, xPt + LEFT_PT, topPt);
      const areas = layerAreas(section, enclosure.layers);
      return [
        ...asPlaced(sectionMarks(enclosure, section, areas), owner),
        ...labelMarks(
          labels,
          section,
          areas,
          { fromPt: yPt, toPt: yPt + bodyPt, widthPt: room.widthPt, xPt },
          owner,
        ),
        ...heightMarks(enclosure, section, reader, styles, owner, warnings),
        ...underMarks(under, section, owner),
      ];
    },
  };
}

function sectionMarks(enclosure: CareEnclosure, section: Section, areas: LayerArea[]): Mark[] {
  const marks: Mark[] = areas.flatMap((area, index) => {
    const name = enclosure.layers[index]?.name ?? '';
    const edge = ruleMark(section.leftAt(area.topPt), area.topPt, section.rightAt(area.topPt), area.topPt, {
      widthPt: RULE,
    });
    return [textureMark(name, area, index), edge];
  });
  if (enclosure.moistSide !== 'none') {
    const [from, to] = enclosure.moistSide === 'left' ? [0, MOIST_SHARE] : [1 - MOIST_SHARE, 1];
    marks.push(...areas.flatMap((area) => dropMarks(area, from, to)));
  }
  marks.push({
    kind: 'path',
    points: [
      [section.leftAt(section.topPt), section.topPt],
      [section.leftAt(section.floorPt), section.floorPt],
      [section.rightAt(section.floorPt), section.floorPt],
      [section.rightAt(section.topPt), section.topPt],
    ],
    closed: false,
    stroke: { widthPt: 1.8 },
  });
  return [...marks, ...lidMarks(enclosure.ventilation, section)];
}

/** The lid, open where air comes in; or the holes in the walls. */
function lidMarks(ventilation: string, section: Section): Mark[] {
  const left = section.leftAt(section.topPt) - 4;
  const right = section.rightAt(section.topPt) + 4;
  const y = section.topPt - 1.4;
  const heavy = { widthPt: 2.6 };
  const inWalls = /side|wall/i.test(ventilation);
  const inLid = ventilation !== '' && (!inWalls || /lid|top/i.test(ventilation));
  const [a, b] = [left + (right - left) * 0.3, left + (right - left) * 0.7];
  const lid = inLid
    ? [
        ruleMark(left, y, a, y, heavy),
        ruleMark(b, y, right, y, heavy),
        ruleMark(a + 3, y, b - 2, y, { widthPt: 1, dash: [1.5, 2.5] }),
        ...[0.4, 0.6].map((share) => arrowUp(left + (right - left) * share, y)),
      ]
    : [ruleMark(left, y, right, y, heavy)];
  return inWalls ? [...lid, ...wallHoles(section)] : lid;
}

function arrowUp(x: number, y: number): Mark {
  return {
    kind: 'curve',
    d: `M${x} ${y + 9}L${x} ${y - 6}M${x - 2.2} ${y - 3}L${x} ${y - 6.4}L${x + 2.2} ${y - 3}`,
    stroke: { widthPt: 0.7 },
  };
}

/** Holes drawn as breaks in the upper wall. */
function wallHoles(section: Section): Mark[] {
  const at = [0.1, 0.16, 0.22].map((share) => section.topPt + section.heightPt * share);
  return at.flatMap((y) =>
    [section.leftAt(y), section.rightAt(y)].map((x) =>
      ruleMark(x, y - 1.2, x, y + 1.2, { widthPt: 2.4, ink: 0 }),
    ),
  );
}
