import type { EnclosureMeasures } from '../../shared/enclosures/volume.ts';
import { formatLength } from '../../shared/settings/units.ts';
import { heightMarks, labelMarks, sideLabels, underLabels, underMarks } from './care-enclosure-labels.ts';
import type { CareEnclosure } from './care-sheet-data.ts';
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
export function measuresInWords(measures: EnclosureMeasures, { units, locale }: Reader): string {
  const length = (lengthMm: number) => formatLength(lengthMm, units, locale);
  const high = `${length(measures.heightMm)} high`;
  if (measures.shape === 'box') return `${length(measures.lengthMm)} × ${length(measures.widthMm)}, ${high}`;
  if (measures.shape === 'cylinder') return `${length(measures.diameterMm)} across, ${high}`;
  const { topDiameterMm, bottomDiameterMm } = measures;
  return `${length(topDiameterMm)} across the top, ${length(bottomDiameterMm)} across the bottom, ${high}`;
}

/** What the drawing shows, for those who cannot see it. */
export function sectionInWords(enclosure: CareEnclosure, reader: Reader): string {
  const depth = (lengthMm: number) => formatLength(lengthMm, reader.units, reader.locale);
  const layers = enclosure.layers.map((layer) => `${layer.name}, ${depth(layer.depthMm)}`);
  const moist = enclosure.moistSide === 'none' ? '' : ` The ${enclosure.moistSide} third is kept moist.`;
  const air = enclosure.ventilation === '' ? '' : ` Ventilation: ${enclosure.ventilation}.`;
  return (
    `Section through the enclosure (${measuresInWords(enclosure.measures, reader)}), from the bottom up: ` +
    `${[...layers, `free space, ${depth(enclosure.freeHeadMm)}`].join('; ')}.${air}${moist}`
  );
}

/** The enclosure cut through the middle, to scale, with the depth of each layer beside it. */
export function enclosureDrawing(
  enclosure: CareEnclosure,
  room: DrawingRoom,
  reader: Reader,
  styles: CareStyles,
  owner: Element,
  warnings: Warnings,
): Slab {
  const labelPt = room.widthPt * LABEL_SHARE;
  const drawPt = room.widthPt - LEFT_PT - labelPt;
  const pointsPerMm = scaleFor(enclosure.measures, drawPt, room.heightPt);
  const labels = sideLabels(enclosure, labelPt - 14, reader, styles, warnings);
  const under = underLabels(enclosure, styles, warnings);
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
