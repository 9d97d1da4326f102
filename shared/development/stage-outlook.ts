import { addDays, type Day } from '../days.ts';
import { development, type TemperatureDay } from './development.ts';
import { type DevelopmentTime, thermalConstant } from './thermal-constant.ts';

/**
 * By how much broods of one species differ, as the standard deviation of the logarithm of the warmth they take; and by
 * how much the coming weeks may be warmer or cooler than the last ones. Common practice, no source.
 */
const BROOD_SD_LOG = 0.1;
const AHEAD_C = 1.5;
/** A room nobody has measured: a living room. Common practice, no source. */
const UNMEASURED = { meanC: 21, halfSwingC: 2, doubtC: 3 };
const TWO_SIDED_90 = 1.6449;
const MOST_DAYS = 730;
const RECENT = 14;

export interface StageOutlook {
  startOn: Day;
  from: Day | null;
  about: Day | null;
  to: Day | null;
  isMeasured: boolean;
  /** What the times come to. */
  lowerC: number;
  degreeDays: number;
}

type Expected = { meanC: number; halfSwingC: number; doubtC: number; isMeasured: boolean };

/** What the days to come are expected to be: like the last fortnight that was read. */
function expectedAir(days: readonly TemperatureDay[]): Expected {
  const recent = days.slice(-RECENT);
  if (recent.length === 0) return { ...UNMEASURED, isMeasured: false };
  const mean = (of: (day: TemperatureDay) => number) =>
    recent.reduce((sum, day) => sum + of(day), 0) / recent.length;
  const meanC = mean(({ minC, maxC }) => (minC + maxC) / 2);
  return {
    meanC,
    halfSwingC: mean(({ minC, maxC }) => (maxC - minC) / 2),
    doubtC: AHEAD_C,
    isMeasured: true,
  };
}

function readingsFrom(
  startOn: Day,
  read: ReadonlyMap<Day, TemperatureDay>,
  expected: Expected,
  shiftC: number,
) {
  return Array.from({ length: MOST_DAYS }, (_, i): TemperatureDay => {
    const date = addDays(startOn, i);
    const own = read.get(date);
    if (own) return own;
    const meanC = expected.meanC + shiftC * expected.doubtC;
    return { date, minC: meanC - expected.halfSwingC, maxC: meanC + expected.halfSwingC };
  });
}

/**
 * When a stage that began on a day will be complete, as a range: degree-days from how long it took at two temperatures,
 * the days that were read as they were, the others like the last fortnight. `from` is a quick brood in warmer weeks,
 * `to` a slow one in cooler weeks; null where it would take more than two years.
 *
 * Units: degrees Celsius, days. Errors: those of `thermalConstant` (times that do not shorten as it gets warmer).
 * Source: see `development` and `thermalConstant`; the doubt is common practice, no source.
 *
 * @example stageOutlook([{ tempC: 18, days: 19 }, { tempC: 25, days: 8.5 }], [], '2026-11-01').about // '2026-11-13'
 */
export function stageOutlook(
  times: readonly DevelopmentTime[],
  days: readonly TemperatureDay[],
  startOn: Day,
): StageOutlook {
  const { lowerC, degreeDays } = thermalConstant(times);
  const expected = expectedAir(days);
  const read = new Map(days.map((day) => [day.date, day]));
  const completes = (z: number) =>
    development({
      lowerC,
      upperC: null,
      degreeDays: degreeDays * Math.exp(-z * TWO_SIDED_90 * BROOD_SD_LOG),
      readings: readingsFrom(startOn, read, expected, z),
      startOn,
      method: 'single-sine',
    }).completesOn;
  return {
    startOn,
    from: completes(1),
    about: completes(0),
    to: completes(-1),
    isMeasured: expected.isMeasured,
    lowerC,
    degreeDays,
  };
}
