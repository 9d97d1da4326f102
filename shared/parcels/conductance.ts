import type { ParcelBox } from './parcel-form.ts';

/**
 * Inside and outside surface of a box in square metres, from its inside measures and its wall in millimetres.
 *
 * @example surfacesM2([200, 150, 100], 20) // { inside: 0.13, outside: 0.2116 }
 */
export function surfacesM2(
  insideMm: readonly [number, number, number],
  wallMm: number,
): { inside: number; outside: number } {
  const surface = ([l, w, h]: readonly [number, number, number]) => (2 * (l * w + l * h + w * h)) / 1e6;
  const [l, w, h] = insideMm;
  return { inside: surface(insideMm), outside: surface([l + 2 * wallMm, w + 2 * wallMm, h + 2 * wallMm]) };
}

/**
 * The mean of a box's inside and outside surface, in square metres, from its inside measures and its wall in
 * millimetres: what heat passes through on its way, between the smaller surface and the larger.
 *
 * @example meanAreaM2([200, 150, 100], 20) // 0.1708, between 0.13 and 0.2116
 */
export function meanAreaM2(insideMm: readonly [number, number, number], wallMm: number): number {
  const { inside, outside } = surfacesM2(insideMm, wallMm);
  return (inside + outside) / 2;
}

type Films = { inside: number; outside: number };

/**
 * What a square metre of a wall holds back: the film of air inside, the wall and the film outside in series.
 *
 * Units: millimetres, W/(m K), W/(m2 K); m2 K/W out. Source: as `conductanceOf`.
 *
 * @example resistanceOf(20, 0.035, { inside: 8, outside: 15 }) // 0.763
 */
export const resistanceOf = (wallMm: number, conductivityWPerMK: number, film: Films): number =>
  1 / film.inside + wallMm / 1_000 / conductivityWPerMK + 1 / film.outside;

/**
 * How many watts leave a box for each kelvin between its inside and the air outside: what was measured, or else all its
 * walls, each the inside film of air, the wall and the outside film in series, over the mean of inside and outside area.
 *
 * Units: millimetres, W/(m K) for the wall, W/(m2 K) for the films; W/K out. Not for a lid that does not close, a box
 * with vents, or walls thicker than the inside is wide: corners are not looked at.
 *
 * Source: thermal resistances in series, e.g. Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, section 3.1
 * (from memory).
 *
 * @example conductanceOf({ insideMm: [200, 150, 100], wallMm: 20, conductivityWPerMK: 0.035,
 *   filmWPerM2K: { inside: 8, outside: 15 } }) // 0.224
 */
export function conductanceOf(box: ParcelBox): number {
  if (box.conductanceWPerK !== undefined) return box.conductanceWPerK;
  const { insideMm, wallMm, conductivityWPerMK, filmWPerM2K } = box;
  if (!insideMm || wallMm === undefined || conductivityWPerMK === undefined || !filmWPerM2K)
    throw new RangeError('a box needs its measures or its conductance');
  return meanAreaM2(insideMm, wallMm) / resistanceOf(wallMm, conductivityWPerMK, filmWPerM2K);
}
