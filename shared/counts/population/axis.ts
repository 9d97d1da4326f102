/** How many standard deviations a lattice reaches on either side. */
export const REACH = 3.6;

/**
 * A stretched axis: a standard coordinate u stands for center + scale (e^(skew u) - 1) / skew. With skew 0
 * it is plain; with skew > 0 the lines stand close below the center and far apart above it, as a lopsided
 * posterior wants them.
 */
export interface Axis {
  readonly center: number;
  readonly scale: number;
  readonly skew: number;
}

/** Below this an axis is as good as plain, and the formula would lose digits. */
const PLAIN = 1e-4;
/** Where a value lies beyond anything a stretched axis can reach. */
const FAR = 3 * REACH;

/** The value at a standard coordinate. */
export function valueOn({ center, scale, skew }: Axis, u: number): number {
  return center + scale * (Math.abs(skew) < PLAIN ? u : Math.expm1(skew * u) / skew);
}

/** The standard coordinate of a value; kept within FAR. */
export function coordinateOn({ center, scale, skew }: Axis, value: number): number {
  const x = (value - center) / scale;
  if (Math.abs(skew) < PLAIN) return Math.min(FAR, Math.max(-FAR, x));
  const inside = 1 + skew * x;
  if (inside <= 0) return skew > 0 ? -FAR : FAR;
  return Math.min(FAR, Math.max(-FAR, Math.log(inside) / skew));
}

/** The log of how much the value changes per unit of the coordinate. */
export function logSlopeOn({ scale, skew }: Axis, u: number): number {
  return Math.log(scale) + (Math.abs(skew) < PLAIN ? 0 : skew * u);
}

/** The standard coordinate of the i-th of `count` lines. */
export function coordinate(count: number, i: number): number {
  return count === 1 ? 0 : -REACH + (2 * REACH * i) / (count - 1);
}

/** The (fractional) line of a standard coordinate. */
export function lineOf(count: number, u: number): number {
  return count === 1 ? 0 : ((u + REACH) * (count - 1)) / (2 * REACH);
}
