import type { StandingCup } from '../../shared/documents/stand-cups.ts';
import { speakerFor } from '../words/speaker.ts';
import type { Warnings } from './characters.ts';
import {
  asPlaced,
  boxMark,
  type Element,
  fillMark,
  lineMarks,
  type Mark,
  type Placed,
  ruleMark,
} from './drawing.ts';
import type { Slab } from './flow.ts';
import { type Line, wrap } from './lines.ts';
import type { PackingParcel } from './packing-parcel-data.ts';
import { words } from './packing-style.ts';
import { HAIRLINE, RULE } from './paper.ts';
import type { Reader } from './print-options.ts';
import { spread } from './spread.ts';
import { textureMark } from './textures.ts';

const WALL_PT = 5;
const LID_PT = 7;
const PACK_PT = 9;
const MOST_HIGH_PT = 150;
const LABEL_SHARE = 0.36;
/** Of the box's length, so that a pack is seen to leave room at both ends. */
const PACK_SHARE = 0.5;

/** The box cut open, in points: where its inside lies. */
interface Inside {
  left: number;
  right: number;
  top: number;
  floor: number;
  pointsPerMm: number;
}

interface Label {
  lines: Line[];
  heightPt: number;
  /** What it points at. */
  atX: number;
  atY: number;
}

/** Whether the pack may be drawn: what does not fit is said in words and never shown as if it did. */
const drawsPack = ({ pack }: PackingParcel): boolean => pack?.place.ok === true;

/** What the drawing shows, for those who cannot see it. */
export function boxInWords(parcel: PackingParcel, reader: Reader): string {
  const { inside, standing, pack } = parcel;
  const length = (mm: number) => speakerFor(reader).length(mm, reader.units);
  const cups = !standing
    ? 'The cups stand upright on the floor of the box; their measures are not known.'
    : standing.fits
      ? `The cups stand upright in ${standing.layers === 1 ? 'one layer' : `${standing.layers} layers`}, ${length(standing.heightMm)} high; ${length(standing.freeMm)} stay free over them.`
      : 'The cups do not fit and are not drawn.';
  const above =
    pack && drawsPack(parcel)
      ? ` The ${pack.effect === 'warms' ? 'heat' : 'cold'} pack lies under the lid with air below it, away from the cups.`
      : '';
  return `Section through the box, ${length(inside.lengthMm)} long and ${length(inside.heightMm)} high inside. ${cups} Padding fills the gaps.${above}`;
}

/** Generic cups where nobody measured them: four of a third of the height, plainly not to scale. */
function unmeasured({ inside }: PackingParcel): StandingCup[] {
  const lengthMm = inside.lengthMm / 4.6;
  return [0, 1, 2, 3].map((index) => ({
    name: '',
    xMm: inside.lengthMm * 0.04 + index * lengthMm * 1.08,
    yMm: 0,
    lengthMm,
    heightMm: inside.heightMm * 0.42,
  }));
}

/** A section through the packed box with the cups, the padding, the pack and the air to it named beside it. */
export function boxDrawing(
  parcel: PackingParcel,
  widthPt: number,
  reader: Reader,
  owner: Element,
  warnings: Warnings,
): Slab {
  const { inside } = parcel;
  const labelPt = widthPt * LABEL_SHARE;
  const roomPt = widthPt - labelPt - 2 * WALL_PT - 12;
  const pointsPerMm = Math.min(roomPt / inside.lengthMm, MOST_HIGH_PT / inside.heightMm);
  const boxPt = inside.heightMm * pointsPerMm + LID_PT + WALL_PT;
  const said = labelWords(parcel, reader).map((text) => wrap([words(text, 'label')], labelPt, warnings));
  const labelsPt = said.reduce((sum, lines) => sum + heightOfLines(lines) + 3, 0);
  const heightPt = Math.max(boxPt, labelsPt);
  return {
    heightPt,
    gapPt: 0,
    keepWithNext: false,
    draw: (xPt, yPt) => {
      owner.box = [xPt, yPt, xPt + widthPt, yPt + heightPt];
      const top = yPt + (heightPt - boxPt) / 2 + LID_PT;
      const area: Inside = {
        left: xPt + WALL_PT,
        right: xPt + WALL_PT + inside.lengthMm * pointsPerMm,
        top,
        floor: top + inside.heightMm * pointsPerMm,
        pointsPerMm,
      };
      const labels = placesOf(parcel, area).map(([atX, atY], index) => {
        const lines = said[index] ?? [];
        return { lines, heightPt: heightOfLines(lines) + 3, atX, atY };
      });
      return [
        ...asPlaced(boxMarks(parcel, area), owner),
        ...sideLabels(labels, xPt + widthPt - labelPt, yPt, heightPt, owner),
      ];
    },
  };
}

const heightOfLines = (lines: Line[]) => lines.reduce((sum, line) => sum + line.heightPt, 0);

/** From the lid down; one for each place of `placesOf`. */
function labelWords(parcel: PackingParcel, reader: Reader): string[] {
  const { pack, standing } = parcel;
  const length = (mm: number) => speakerFor(reader).length(mm, reader.units);
  const free = standing?.fits ? `, ${length(standing.freeMm)}` : '';
  const said: string[] = [];
  if (pack && drawsPack(parcel)) {
    said.push(
      pack.effect === 'warms'
        ? 'Heat pack, taped under the lid, paper around it'
        : 'Cold pack, wrapped, under the lid',
      `Air${free}: nothing between pack and cups but paper`,
    );
  }
  const cups = standing ? 'Cups, upright' : 'Cups, upright (not to scale: not measured)';
  if (!standing || standing.fits) said.push(cups);
  return [...said, 'Padding in every gap'];
}

function placesOf(parcel: PackingParcel, area: Inside): [number, number][] {
  const { standing } = parcel;
  const cups = frontOf(parcel);
  const last = cups.at(-1);
  const cupsTop = topOfCups(parcel, area);
  const middle = (area.left + area.right) / 2 + ((area.right - area.left) * PACK_SHARE) / 2 - 6;
  const places: [number, number][] = [];
  if (drawsPack(parcel))
    places.push([middle, area.top + PACK_PT / 2 + 1], [middle + 2, (area.top + PACK_PT + cupsTop) / 2]);
  if (!standing || standing.fits)
    places.push([
      area.left + ((last?.xMm ?? 0) + (last?.lengthMm ?? 0) * 0.7) * area.pointsPerMm,
      area.floor - ((last?.yMm ?? 0) + (last?.heightMm ?? 0) * 0.55) * area.pointsPerMm,
    ]);
  return [...places, [area.right - 4, area.floor - 5]];
}

const frontOf = (parcel: PackingParcel): StandingCup[] =>
  parcel.standing === null ? unmeasured(parcel) : parcel.standing.fits ? parcel.standing.front : [];

function topOfCups(parcel: PackingParcel, area: Inside): number {
  const highest = Math.max(0, ...frontOf(parcel).map(({ yMm, heightMm }) => yMm + heightMm));
  return area.floor - highest * area.pointsPerMm;
}

function boxMarks(parcel: PackingParcel, area: Inside): Mark[] {
  const { left, right, top, floor } = area;
  // with a pack over them the cups are padded up to their lids and not above
  const paddedTo = drawsPack(parcel) ? topOfCups(parcel, area) : top + 2;
  const padding = { topPt: paddedTo, bottomPt: floor, leftAt: () => left, rightAt: () => right };
  return [
    textureMark('moss', padding, 7),
    ...frontOf(parcel).flatMap((cup) => cupMarks(cup, area)),
    ...(drawsPack(parcel) ? packMarks(parcel, area) : []),
    boxMark(left, top, right - left, floor - top, { widthPt: RULE }),
    boxMark(left - WALL_PT, top, right - left + 2 * WALL_PT, floor - top + WALL_PT, { widthPt: RULE }),
    fillMark(left - WALL_PT - 2, top - LID_PT + 2, right - left + 2 * WALL_PT + 4, LID_PT - 3, 0.55),
  ];
}

function cupMarks({ xMm, yMm, lengthMm, heightMm }: StandingCup, area: Inside): Mark[] {
  const { pointsPerMm } = area;
  const [x, width] = [area.left + xMm * pointsPerMm, lengthMm * pointsPerMm];
  const [foot, height] = [area.floor - yMm * pointsPerMm, heightMm * pointsPerMm];
  const inset = Math.min(width * 0.08, 4);
  const lid = Math.min(4, height / 4);
  return [
    {
      kind: 'path',
      points: [
        [x + 1, foot - height + lid],
        [x + width - 1, foot - height + lid],
        [x + width - inset - 1, foot - 0.6],
        [x + inset + 1, foot - 0.6],
      ],
      closed: true,
      stroke: { widthPt: RULE },
      fill: 0,
    },
    {
      kind: 'rects',
      rects: [[x + 0.6, foot - height, width - 1.2, lid]],
      stroke: { widthPt: RULE },
      fill: 0.25,
    },
  ];
}

function packMarks({ pack }: PackingParcel, { left, right, top }: Inside): Mark[] {
  const width = (right - left) * PACK_SHARE;
  const x = (left + right) / 2 - width / 2;
  const warms = pack?.effect === 'warms';
  const body: Mark = {
    kind: 'rects',
    rects: [[x, top + 1, width, PACK_PT]],
    stroke: { widthPt: RULE },
    fill: warms ? 1 : 0,
  };
  // paper: a thin line that keeps the pack apart from what is below
  const paper = ruleMark(x - 4, top + PACK_PT + 4, x + width + 4, top + PACK_PT + 4, {
    widthPt: RULE,
    dash: [3, 2],
  });
  const ice = warms
    ? []
    : [1, 2, 3].map((part) =>
        ruleMark(x + (width * part) / 4 - 3, top + PACK_PT, x + (width * part) / 4 + 3, top + 2, {
          widthPt: HAIRLINE,
        }),
      );
  return [body, ...ice, paper];
}

/** Labels beside the box, each with a line to what it names; none lies on another. */
function sideLabels(labels: Label[], xPt: number, yPt: number, heightPt: number, owner: Element): Placed[] {
  const centres = spread(
    labels.map(({ atY }) => atY),
    labels.map((label) => label.heightPt),
    yPt,
    yPt + heightPt,
  );
  return labels.flatMap((label, index) => {
    const centre = centres[index] ?? label.atY;
    let y = centre - label.heightPt / 2 + 1.5;
    const lead: Mark = {
      kind: 'path',
      points: [
        [label.atX, label.atY],
        [xPt - 10, centre],
        [xPt - 3, centre],
      ],
      closed: false,
      stroke: { widthPt: HAIRLINE },
    };
    const texts = label.lines.flatMap((line) => {
      const marks = lineMarks(line, xPt, y, owner);
      y += line.heightPt;
      return marks;
    });
    return [...asPlaced([lead], owner), ...texts];
  });
}
