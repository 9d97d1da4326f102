import type { ParcelBox } from './parcel-form.ts';

/**
 * The mean of a box's inside and outside surface, in square metres, from its inside measures and its wall in
 * millimetres: what heat passes through on its way, between the smaller surface and the larger.
 *
 * @example meanAreaM2([200, 150, 100], 20) // 0.1708, between 0.13 and 0.2116
 */
export function meanAreaM2(insideMm: readonly [number, number, number], wallMm: number): number {
  const surface = ([l, w, h]: readonly [number, number, number]) => (2 * (l * w + l * h + w * h)) / 1e6;
  const [l, w, h] = insideMm;
  const outsideMm = [l + 2 * wallMm, w + 2 * wallMm, h + 2 * wallMm] as const;
  return (surface(insideMm) + surface(outsideMm)) / 2;
}

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
  const resistanceM2KPerW =
    1 / filmWPerM2K.inside + wallMm / 1_000 / conductivityWPerMK + 1 / filmWPerM2K.outside;
  return meanAreaM2(insideMm, wallMm) / resistanceM2KPerW;
}
