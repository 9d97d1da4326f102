/**
 * The largest whole number n >= from for which `holds(n)`, where holds is true up to some point and false
 * beyond it and `holds(from)` is taken for granted. Infinity when it still holds at `limit`.
 *
 * Steps of twice, four times, sixteen times ... find a bracket (so that even 1e300 is near), halving
 * in ratio and then in difference closes it. Beyond 2^53 the answer is exact to 1e-12 of itself.
 *
 * @example largestWhere((n) => n * n <= 50, 1) // 7
 */
export function largestWhere(holds: (n: number) => boolean, from: number, limit = 1e300): number {
  let low = from;
  let high = from;
  let factor = 2;
  do {
    low = high;
    if (low >= limit) return Number.POSITIVE_INFINITY;
    high = Math.min(limit, Math.ceil((high + 1) * factor));
    factor = Math.min(factor * factor, 1e75);
  } while (holds(high));
  while (high - low > (high > Number.MAX_SAFE_INTEGER ? 1e-12 * high : 1)) {
    const middle = low > 0 && high / low > 4 ? Math.sqrt(low) * Math.sqrt(high) : low + (high - low) / 2;
    const whole = Math.min(high - 1, Math.max(low + 1, Math.floor(middle)));
    // Beyond 2^53 adding one changes nothing: the bracket is as narrow as numbers allow.
    if (whole <= low || whole >= high) break;
    if (holds(whole)) low = whole;
    else high = whole;
  }
  return low;
}

/**
 * The smallest whole number n >= from for which `holds(n)`, where holds is false up to some point and true
 * beyond it. Infinity when it does not hold even at `limit`.
 *
 * @example smallestWhere((n) => n * n > 50, 1) // 8
 */
export function smallestWhere(holds: (n: number) => boolean, from: number, limit = 1e300): number {
  if (holds(from)) return from;
  return largestWhere((n) => !holds(n), from, limit) + 1;
}
