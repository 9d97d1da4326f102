/** Above `lowerC` warmth counts; above `upperC`, where there is one, more of it does not (horizontal cut-off). */
export interface Thresholds {
  lowerC: number;
  upperC: number | null;
}

/**
 * The area, in degree-days, that one sine a day through its minimum and maximum leaves above a temperature.
 */
function sineAbove(minC: number, maxC: number, aboveC: number): number {
  const mean = (minC + maxC) / 2;
  const swing = (maxC - minC) / 2;
  if (aboveC <= minC) return mean - aboveC;
  if (aboveC >= maxC) return 0;
  const crosses = Math.asin((aboveC - mean) / swing);
  return ((mean - aboveC) * (Math.PI / 2 - crosses) + swing * Math.cos(crosses)) / Math.PI;
}

/**
 * The degree-days of one civil day: a single sine through its minimum and maximum, above the lower threshold, with the
 * part above the upper one cut off level.
 *
 * Units: degrees Celsius in, degree-days out (any other degree works as well, all of one kind).
 * Source: Baskerville and Emin (1969), Ecology 50:514-517; horizontal cut-off as in Zalom et al. (1983), UC Leaflet
 * 21373.
 *
 * @example singleSine(5, 15, { lowerC: 10, upperC: null }) // 1.5915 = 5 / pi
 */
export function singleSine(minC: number, maxC: number, { lowerC, upperC }: Thresholds): number {
  const above = sineAbove(minC, maxC, lowerC);
  return upperC === null ? above : Math.max(0, above - sineAbove(minC, maxC, upperC));
}

/**
 * The degree-days of one civil day from its mean alone: (min + max) / 2 less the lower threshold, not below 0; a mean
 * above the upper threshold counts as that threshold.
 *
 * Source: the averaging method, McMaster and Wilhelm (1997), Agric. For. Meteorol. 87:291-300, method 1. Not where
 * nights fall below the threshold: it misses the warm hours of the day.
 *
 * @example simpleAverage(10, 20, { lowerC: 5, upperC: null }) // 10
 */
export function simpleAverage(minC: number, maxC: number, { lowerC, upperC }: Thresholds): number {
  const mean = (minC + maxC) / 2;
  return Math.max(0, (upperC === null ? mean : Math.min(mean, upperC)) - lowerC);
}
