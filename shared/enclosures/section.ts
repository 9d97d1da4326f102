import { type EnclosureMeasures, volumeBetweenLitres, widthAtMm } from './volume.ts';

/** A point of the section in millimetres: x from the left edge of the widest part, y up from the floor. */
export type SectionPoint = [xMm: number, yMm: number];

export type SectionLayer = {
  name: string;
  fromMm: number;
  toMm: number;
  litres: number;
  outline: SectionPoint[];
};

export type Section = {
  widthMm: number;
  heightMm: number;
  /** The wall from the left rim down, along the floor and up to the right rim. */
  wall: SectionPoint[];
  layers: SectionLayer[];
  freeHeadMm: number;
  /** How far the layers stand above the rim; they are cut off there. */
  overflowMm: number;
};

/**
 * Answers: what one sees of an enclosure and its layers when it is cut through upright, to scale. A box is seen from
 * its long side. Layers lie on one another from the floor up; what would stand above the rim is cut off and reported.
 * Units: millimetres and litres.
 *
 * @example sectionOf({ shape: 'box', lengthMm: 300, widthMm: 200, heightMm: 100 }, [{ name: 'soil', depthMm: 60 }])
 * // one layer from 0 to 60 mm of 3.6 litres, 40 mm free above
 */
export function sectionOf(
  enclosure: EnclosureMeasures,
  layers: readonly { name: string; depthMm: number }[],
): Section {
  const { heightMm } = enclosure;
  const widthMm = Math.max(widthAtMm(enclosure, 0), widthAtMm(enclosure, heightMm));
  const edge = (yMm: number, side: -1 | 1): SectionPoint => [
    (widthMm + side * widthAtMm(enclosure, yMm)) / 2,
    yMm,
  ];
  let filledMm = 0;
  const drawn: SectionLayer[] = [];
  for (const { name, depthMm } of layers) {
    const fromMm = Math.min(filledMm, heightMm);
    const toMm = Math.min(filledMm + depthMm, heightMm);
    filledMm += depthMm;
    if (toMm === fromMm) continue;
    drawn.push({
      name,
      fromMm,
      toMm,
      litres: volumeBetweenLitres(enclosure, fromMm, toMm),
      outline: [edge(toMm, -1), edge(fromMm, -1), edge(fromMm, 1), edge(toMm, 1)],
    });
  }
  return {
    widthMm,
    heightMm,
    wall: [edge(heightMm, -1), edge(0, -1), edge(0, 1), edge(heightMm, 1)],
    layers: drawn,
    freeHeadMm: Math.max(0, heightMm - filledMm),
    overflowMm: Math.max(0, filledMm - heightMm),
  };
}
