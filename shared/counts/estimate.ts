import type { CountMethod } from './form.ts';

/** A head count with its doubt. */
export interface CountEstimate {
  /** How many animals there are, as the method's estimator says; not rounded. */
  estimate: number;
  /** The standard error of the estimate; null where the method has none on these data. */
  standardError: number | null;
  lower: number;
  upper: number;
  /** The probability inside lower to upper. */
  level: number;
  method: CountMethod;
}

/**
 * Puts an estimate together. The interval is widened to hold its own estimate where a very low level or a
 * very skewed share would leave it outside: wider is never less honest.
 */
export function countEstimateOf(
  count: { method: CountMethod; level: number },
  estimate: number,
  standardError: number | null,
  interval: { lower: number; upper: number },
): CountEstimate {
  return {
    estimate,
    standardError,
    lower: Math.min(interval.lower, estimate),
    upper: Math.max(interval.upper, estimate),
    level: count.level,
    method: count.method,
  };
}

/** The probability left out at each end of an equal-tailed interval. */
export function tailOf(count: { level: number }): number {
  return (1 - count.level) / 2;
}
