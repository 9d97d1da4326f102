import { CalculationError } from '../faults.ts';
import { twoSidedT } from '../numbers/student.ts';
import { goneIn } from './heat-line.ts';

/** One line of a cooling log: hours since its start, and both temperatures. */
export interface LogReading {
  hour: number;
  insideC: number;
  outsideC: number;
}

/** What is in the box while it is measured: its heat capacity must be known, so bottles of water are best. */
export interface LogContents {
  massKg: number;
  heatCapacityJPerKgK: number;
}

export interface BoxConductance {
  conductanceWPerK: number;
  standardError: number;
  lowerWPerK: number;
  upperWPerK: number;
  level: number;
  /** The inside as the fitted box would have had it, at each reading. */
  fittedC: number[];
  /** Root mean square of what the fit leaves over, kelvin. */
  residualC: number;
}

const FEWEST_READINGS = 6;
export const MOST_READINGS = 20_000;
const LEVEL = 0.9;
const SECONDS_PER_HOUR = 3_600;
/** Nearer than this to the air outside the whole time, a thermometer's own error decides. */
const LEAST_DIFFERENCE_C = 2;
/** The difference must shrink by so much, or the log was too short. */
const LEAST_SHRINKING = 0.1;
/** What the fit may leave over of the difference at the start. */
const MOST_LEFT_OVER = 0.1;
const MOST_STEPS = 60;

/** The inside of a box of so many per hour, from its first reading on; the air runs straight between readings. */
function followed(readings: readonly LogReading[], startC: number, perHour: number): number[] {
  const temps = [startC];
  for (let i = 1; i < readings.length; i += 1) {
    const [before, now] = [readings[i - 1] as LogReading, readings[i] as LogReading];
    const hours = now.hour - before.hour;
    const from = temps[i - 1] ?? startC;
    const tau = 1 / perHour;
    const gone = goneIn(hours, tau);
    const slope = (now.outsideC - before.outsideC) / hours;
    temps.push(from + (before.outsideC - from) * gone + slope * (hours - tau * gone));
  }
  return temps;
}

/** Sums of squares that a least-squares step needs: two unknowns, the start and the logarithm of the rate. */
interface Normal {
  left: number;
  startStart: number;
  startRate: number;
  rateRate: number;
  startLeft: number;
  rateLeft: number;
}

function normalOf(readings: readonly LogReading[], startC: number, logRate: number): Normal {
  const nudge = 1e-5;
  const rate = Math.exp(logRate);
  const at = followed(readings, startC, rate);
  const warmer = followed(readings, startC + nudge, rate);
  const faster = followed(readings, startC, Math.exp(logRate + nudge));
  const sums: Normal = { left: 0, startStart: 0, startRate: 0, rateRate: 0, startLeft: 0, rateLeft: 0 };
  for (const [i, { insideC }] of readings.entries()) {
    const fitted = at[i] ?? 0;
    const left = insideC - fitted;
    const byStart = ((warmer[i] ?? 0) - fitted) / nudge;
    const byRate = ((faster[i] ?? 0) - fitted) / nudge;
    sums.left += left * left;
    sums.startStart += byStart * byStart;
    sums.startRate += byStart * byRate;
    sums.rateRate += byRate * byRate;
    sums.startLeft += byStart * left;
    sums.rateLeft += byRate * left;
  }
  return sums;
}

/** Gauss-Newton steps with Levenberg's damping: a step that makes it worse is made shorter. */
function leastSquares(
  readings: readonly LogReading[],
  firstRate: number,
): { startC: number; logRate: number; sums: Normal } {
  let [startC, logRate] = [readings[0]?.insideC ?? 0, Math.log(firstRate)];
  let sums = normalOf(readings, startC, logRate);
  let damping = 1e-3;
  for (let step = 0; step < MOST_STEPS && damping < 1e12; step += 1) {
    const [a, b, c] = [sums.startStart * (1 + damping), sums.startRate, sums.rateRate * (1 + damping)];
    const determinant = a * c - b * b;
    if (!(determinant > 0)) break;
    const startStep = (c * sums.startLeft - b * sums.rateLeft) / determinant;
    const rateStep = Math.min(2, Math.max(-2, (a * sums.rateLeft - b * sums.startLeft) / determinant));
    const next = normalOf(readings, startC + startStep, logRate + rateStep);
    if (next.left <= sums.left) {
      const isDone = Math.abs(startStep) < 1e-9 && Math.abs(rateStep) < 1e-10;
      [startC, logRate, sums, damping] = [startC + startStep, logRate + rateStep, next, damping / 10];
      if (isDone) break;
    } else damping *= 10;
  }
  return { startC, logRate, sums };
}

function check(readings: readonly LogReading[]): void {
  const fault = (message: string): never => {
    throw new CalculationError(message, 'readings');
  };
  if (readings.length < FEWEST_READINGS)
    fault(`hold only ${readings.length} lines: at least ${FEWEST_READINGS}`);
  if (readings.length > MOST_READINGS) fault(`hold more than ${MOST_READINGS} lines`);
  for (const [i, { hour }] of readings.entries())
    if (i > 0 && hour <= (readings[i - 1]?.hour ?? 0)) fault(`do not go forward in time in line ${i + 1}`);
  const differences = readings.map(({ insideC, outsideC }) => insideC - outsideC);
  const [first, last] = [differences[0] ?? 0, differences.at(-1) ?? 0];
  if (Math.max(...differences.map(Math.abs)) < LEAST_DIFFERENCE_C)
    fault('show no difference between inside and outside: warm or cool the contents well before you begin');
  if (Math.abs(first) < LEAST_DIFFERENCE_C)
    fault(
      'begin with inside and outside nearly equal: leave out the lines before the box stood in other air',
    );
  const [start, end] = [readings[0]?.insideC ?? 0, readings.at(-1)?.insideC ?? 0];
  if (first > 0 && end > start)
    fault('show an inside that gets warmer in cooler air: are inside and outside swapped?');
  if (first < 0 && end < start)
    fault('show an inside that gets cooler in warmer air: are inside and outside swapped?');
  if (Math.abs(last) > (1 - LEAST_SHRINKING) * Math.abs(first))
    fault('end before the inside has moved a tenth of the way to the outside: measure for longer');
}

/**
 * How many watts a box lets through for each kelvin, from a log of its cooling (or warming) with known contents: the
 * lumped model, T' = UA (Tout - T) / C, fitted by least squares to the inside temperatures, with the air outside as it was
 * read. The inside at the start is fitted too, so one bad first reading does no harm.
 *
 * Units: hours, degrees Celsius, kilograms, J/(kg K); W/K out. `lowerWPerK` to `upperWPerK` is the interval of `level`
 * by Student's t; it knows how well the curve fits, not how well the mass was weighed, and neighbouring readings are not
 * independent, so it is rather too narrow. The box's own heat capacity is left out: use contents much heavier than it.
 *
 * Errors: too few lines, time that runs back, no difference to the outside, a temperature that runs away from it, a log
 * too short, or one that no box of one conductance could give.
 *
 * Source: nonlinear least squares, Gauss-Newton with damping (Levenberg 1944, Marquardt 1963); covariance from the normal
 * equations, e.g. Bates and Watts, Nonlinear Regression Analysis (1988) (from memory).
 *
 * @example // 1 kg of water that falls from 40 to 20 + 20/e degrees in 4.65 h in air of 20: 0.25 W/K
 */
export function boxConductance(readings: readonly LogReading[], contents: LogContents): BoxConductance {
  check(readings);
  const [first, last] = [readings[0] as LogReading, readings.at(-1) as LogReading];
  const shrinks = Math.max(1e-3, Math.abs((last.insideC - last.outsideC) / (first.insideC - first.outsideC)));
  const guess = -Math.log(Math.min(0.98, shrinks)) / (last.hour - first.hour);
  const { startC, logRate, sums } = leastSquares(readings, guess);
  const freedom = readings.length - 2;
  const variance = sums.left / freedom;
  const determinant = sums.startStart * sums.rateRate - sums.startRate ** 2;
  const residualC = Math.sqrt(sums.left / readings.length);
  if (residualC > MOST_LEFT_OVER * Math.abs(first.insideC - first.outsideC) || !(determinant > 0))
    throw new CalculationError(
      'do not look like one box that cools evenly: was it opened, moved, or were the columns mixed up?',
      'readings',
    );
  const joulesPerK = contents.massKg * contents.heatCapacityJPerKgK;
  const conductanceWPerK = (Math.exp(logRate) * joulesPerK) / SECONDS_PER_HOUR;
  const logError = Math.sqrt((variance * sums.startStart) / determinant);
  const reach = twoSidedT(LEVEL, freedom) * logError;
  return {
    conductanceWPerK,
    standardError: conductanceWPerK * logError,
    lowerWPerK: conductanceWPerK * Math.exp(-reach),
    upperWPerK: conductanceWPerK * Math.exp(reach),
    level: LEVEL,
    fittedC: followed(readings, startC, Math.exp(logRate)),
    residualC,
  };
}
