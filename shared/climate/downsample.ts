export interface Span {
  at: number;
  low: number;
  middle: number;
  high: number;
}

/**
 * Few spans in place of many readings, for a chart: time is cut into equal parts, and each that holds readings becomes
 * their lowest, mean and highest at its middle. No extreme is lost.
 *
 * Units: those of the values; milliseconds.
 *
 * @example downsample([{ at: 0, value: 20 }, { at: 1, value: 24 }, { at: 9, value: 21 }], 0, 10, 2)
 * // [{ at: 2.5, low: 20, middle: 22, high: 24 }, { at: 7.5, low: 21, middle: 21, high: 21 }]
 */
export function downsample(
  readings: readonly { at: number; value: number }[],
  from: number,
  to: number,
  parts: number,
): Span[] {
  const width = (to - from) / parts;
  if (!(width > 0)) return [];
  const spans = new Map<number, { low: number; high: number; sum: number; count: number }>();
  for (const { at, value } of readings) {
    if (at < from || at > to) continue;
    const part = Math.min(parts - 1, Math.floor((at - from) / width));
    const span = spans.get(part) ?? { low: value, high: value, sum: 0, count: 0 };
    span.low = Math.min(span.low, value);
    span.high = Math.max(span.high, value);
    span.sum += value;
    span.count += 1;
    spans.set(part, span);
  }
  return [...spans]
    .sort(([a], [b]) => a - b)
    .map(([part, { low, high, sum, count }]) => ({
      at: from + (part + 0.5) * width,
      low,
      middle: sum / count,
      high,
    }));
}
