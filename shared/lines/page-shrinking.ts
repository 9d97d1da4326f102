/** A forecast that ends this much lower than today is called shrinking; less is within the doubt of any estimate. */
const clearly = 0.05;

/**
 * Whether a culture is expected to shrink in the weeks ahead, if nothing is taken.
 *
 * @example isShrinking(100, [{ median: 98 }, { median: 90 }]) // true: 10 % fewer
 */
export function isShrinking(now: number | null, forecast: readonly { median: number }[]): boolean {
  const last = forecast.at(-1);
  return now !== null && now > 0 && last !== undefined && last.median / now < 1 - clearly;
}
