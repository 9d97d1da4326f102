import { expect, test } from 'vitest';
import { smoothCurve } from '../../shared/numbers/smooth-curve.ts';

test('the worked example: a parabola is kept as it is', () => {
  const curve = smoothCurve([0, 1, 2, 3], [0, 1, 4, 9]);
  for (const x of [0, 0.3, 1, 1.5, 2.9, 3]) expect(curve(x)).toBeCloseTo(x * x, 12);
});

test('goes through its points, is smooth at them, and level beyond', () => {
  const xs = [0, 0.5, 2, 2.4, 5];
  const ys = [1, -1, 3, 3, 0];
  const curve = smoothCurve(xs, ys);
  xs.forEach((x, i) => {
    expect(curve(x)).toBeCloseTo(ys[i]!, 12);
  });
  for (const x of xs.slice(1, -1)) {
    const [before, after] = [curve(x) - curve(x - 1e-6), curve(x + 1e-6) - curve(x)];
    expect(after - before).toBeCloseTo(0, 9);
  }
  expect([curve(-9), curve(9)]).toEqual([1, 0]);
});

test('one point is a level line, two are a straight one', () => {
  expect(smoothCurve([2], [7])(100)).toBe(7);
  expect(smoothCurve([0, 4], [0, 8])(1)).toBeCloseTo(2, 12);
});
