import { type EnclosureMeasures, widthAtMm } from '../../shared/enclosures/volume.ts';
import type { LayerArea } from './textures.ts';

/** How much of the enclosure's length is kept moist where one side is. */
export const MOIST_SHARE = 1 / 3;

/** An enclosure cut through the middle, to scale: one factor for both directions. */
export interface Section {
  pointsPerMm: number;
  heightPt: number;
  /** Of the widest part. */
  widthPt: number;
  xPt: number;
  /** Of the rim. */
  topPt: number;
  floorPt: number;
  /** The inside of the walls at a y on paper. */
  leftAt(yPt: number): number;
  rightAt(yPt: number): number;
}

/** Points for each millimetre so that the enclosure just fits into the room. */
export function scaleFor(measures: EnclosureMeasures, widthPt: number, heightPt: number): number {
  const widest = Math.max(widthAtMm(measures, 0), widthAtMm(measures, measures.heightMm));
  return Math.min(widthPt / widest, heightPt / measures.heightMm);
}

/** The section with its widest part starting at xPt and its rim at topPt. */
export function sectionOf(
  measures: EnclosureMeasures,
  pointsPerMm: number,
  xPt: number,
  topPt: number,
): Section {
  const widest = Math.max(widthAtMm(measures, 0), widthAtMm(measures, measures.heightMm));
  const heightPt = measures.heightMm * pointsPerMm;
  const floorPt = topPt + heightPt;
  const middle = xPt + (widest * pointsPerMm) / 2;
  const half = (yPt: number) => {
    const aboveFloorMm = Math.min(measures.heightMm, Math.max(0, (floorPt - yPt) / pointsPerMm));
    return (widthAtMm(measures, aboveFloorMm) * pointsPerMm) / 2;
  };
  return {
    pointsPerMm,
    heightPt,
    widthPt: widest * pointsPerMm,
    xPt,
    topPt,
    floorPt,
    leftAt: (yPt) => middle - half(yPt),
    rightAt: (yPt) => middle + half(yPt),
  };
}

/** Where each layer lies, bottom up; a layer never rises above the rim. */
export function layerAreas(section: Section, layers: { depthMm: number }[]): LayerArea[] {
  let bottomPt = section.floorPt;
  return layers.map(({ depthMm }) => {
    const topPt = Math.max(section.topPt, bottomPt - depthMm * section.pointsPerMm);
    const area = { topPt, bottomPt, leftAt: section.leftAt, rightAt: section.rightAt };
    bottomPt = topPt;
    return area;
  });
}
