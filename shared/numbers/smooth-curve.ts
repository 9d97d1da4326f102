/**
 * A smooth curve through points with rising x: cubic from point to point, with the slope of the parabola
 * through each point and its neighbours; beyond the ends it stays level.
 *
 * @example smoothCurve([0, 1, 2, 3], [0, 1, 4, 9])(1.5) // 2.25: a parabola is kept as it is
 */
export function smoothCurve(xs: readonly number[], ys: readonly number[]): (x: number) => number {
  const last = xs.length - 1;
  const rise = (i: number) => (ys[i + 1]! - ys[i]!) / (xs[i + 1]! - xs[i]!);
  const slopes = xs.map((x, i) => {
    if (last === 0) return 0;
    if (last === 1) return rise(0);
    const middle = Math.min(last - 1, Math.max(1, i));
    const [before, after] = [rise(middle - 1), rise(middle)];
    const bend = (after - before) / (xs[middle + 1]! - xs[middle - 1]!);
    return before + bend * (2 * x - xs[middle - 1]! - xs[middle]!);
  });
  return (x) => {
    if (!(x > xs[0]!)) return ys[0]!;
    if (x >= xs[last]!) return ys[last]!;
    const i = xs.findIndex((known) => known > x) - 1;
    const width = xs[i + 1]! - xs[i]!;
    const t = (x - xs[i]!) / width;
    const s = 1 - t;
    const ends = s * s * (1 + 2 * t) * ys[i]! + t * t * (1 + 2 * s) * ys[i + 1]!;
    return ends + t * s * width * (s * slopes[i]! - t * slopes[i + 1]!);
  };
}
