import { CalculationError } from '../faults.ts';

/** How long a stage took at a steady temperature. */
export interface DevelopmentTime {
  tempC: number;
  days: number;
}

export interface ThermalConstant {
  /** Below this nothing develops. */
  lowerC: number;
  degreeDays: number;
}

/**
 * The lower threshold and the degree-days of a stage, from how long it took at two or more steady temperatures: the
 * rate 1 / days is a straight line of the temperature, rate = (T - lowerC) / degreeDays, by least squares.
 *
 * Units: degrees Celsius, days, degree-days. With two points the line is exact and says nothing of its own doubt; take
 * them from the middle of what the species bears, where the line holds.
 *
 * Errors: fewer than two different temperatures; times that do not shorten as it gets warmer.
 * Source: the law of total effective temperatures, e.g. Campbell et al. (1974), J. Appl. Ecol. 11:431-438.
 *
 * @example thermalConstant([{ tempC: 18, days: 19 }, { tempC: 25, days: 8.5 }])
 * // { lowerC: 12.333, degreeDays: 107.667 }
 */
export function thermalConstant(times: readonly DevelopmentTime[]): ThermalConstant {
  const n = times.length;
  const meanT = times.reduce((sum, { tempC }) => sum + tempC, 0) / n;
  const meanR = times.reduce((sum, { days }) => sum + 1 / days, 0) / n;
  let across = 0;
  let along = 0;
  for (const { tempC, days } of times) {
    across += (tempC - meanT) ** 2;
    along += (tempC - meanT) * (1 / days - meanR);
  }
  if (n < 2 || across === 0) throw new CalculationError('must hold two different temperatures', 'times');
  const slope = along / across;
  if (!(slope > 0)) throw new CalculationError('do not shorten as it gets warmer', 'times');
  return { lowerC: meanT - meanR / slope, degreeDays: 1 / slope };
}
