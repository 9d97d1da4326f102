import { logGammaStep } from '../../numbers/gamma-steps.ts';
import { logBeta, logGamma } from '../../numbers/log-gamma.ts';
import { normalCdf } from '../../numbers/normal.ts';
import { LOG_HALF, POINTS } from './nodes.ts';
import type { Step } from './steps.ts';

/** How well each number of animals explains one count: the log likelihood as a function of x = log N. */
export interface Likelihood {
  /** The log likelihood if the colony is extinct. */
  readonly extinct: number;
  /** Writes the log likelihood at from, from + step, from + 2 step, ... (POINTS values). */
  fill(out: Float64Array, from: number, step: number): void;
}

/** What a count says, before any prior. `highest` is the largest log N that will be asked about often. */
export function likelihoodOf(step: Step, highest: number): Likelihood {
  switch (step.kind) {
    case 'log-normal':
      return logNormal(step.values[0], step.values[1]);
    case 'none':
      return noneCounted(step.values[0]);
    case 'visible':
      return visible(step.values, highest);
    case 'sample':
      return sample(step.values);
    default:
      throw new TypeError(`${step.kind} is no count`);
  }
}

/** log y ~ Normal(log N, sd). */
function logNormal(logCounted: number, sd: number): Likelihood {
  return {
    extinct: Number.NEGATIVE_INFINITY,
    fill(out, from, step) {
      for (let k = 0; k < POINTS; k += 1) {
        const z = (from + k * step - logCounted) / sd;
        out[k] = -0.5 * z * z;
      }
    },
  };
}

/** Nothing found in a full count: the measured value was below one half. */
function noneCounted(sd: number): Likelihood {
  return {
    extinct: 0,
    fill(out, from, step) {
      for (let k = 0; k < POINTS; k += 1) {
        const z = (from + k * step - LOG_HALF) / sd;
        // Far out the tail itself is no longer a number; its leading terms are (Abramowitz and Stegun 26.2.12).
        out[k] = z < 30 ? Math.log(normalCdf(-z)) : -0.5 * z * z - Math.log(z) - 0.5 * Math.log(2 * Math.PI);
      }
    },
  };
}

/** y ~ Negative binomial(mean fraction N, size clumping). */
function sample([counted, fraction, clumping]: Step['values']): Likelihood {
  const constant = logGamma(counted + clumping) - logGamma(clumping) - logGamma(counted + 1);
  const scale = Math.log(fraction / clumping);
  return {
    extinct: counted === 0 ? 0 : Number.NEGATIVE_INFINITY,
    fill(out, from, step) {
      let odds = Math.exp(from + scale);
      const factor = Math.exp(step);
      for (let k = 0; k < POINTS; k += 1) {
        out[k] = constant + counted * (from + k * step + scale) - (counted + clumping) * Math.log(1 + odds);
        odds *= factor;
      }
    },
  };
}

const UNSEEN_STEP = 0.04;
const MOST_UNSEEN = 24;

/**
 * y ~ Beta-binomial(N, alpha, beta), N real. As a function of log(1 + unseen animals) it is smooth
 * whatever the share that shows, so a table with that argument serves all nodes. Fewer animals than were
 * seen cannot be; N is a real number though and stands for whole animals, so the likelihood falls in a
 * straight line from N = y to nothing at y - 1, which is a step at y - 1/2 without its sharp edge.
 */
function visible([seen, alpha, beta]: Step['values'], highest: number): Likelihood {
  const size = Math.min(MOST_UNSEEN, Math.max(1, highest)) / UNSEEN_STEP;
  const table = new Float64Array(Math.ceil(size) + 3);
  const constant = logGamma(seen + alpha) - logGamma(seen + 1) - logBeta(alpha, beta);
  for (let i = 0; i < table.length; i += 1) {
    const unseen = Math.expm1(i * UNSEEN_STEP);
    table[i] = constant + logGammaStep(unseen + 1, seen) - logGammaStep(unseen + beta, seen + alpha);
  }
  return {
    extinct: seen === 0 ? 0 : Number.NEGATIVE_INFINITY,
    fill(out, from, step) {
      let animals = Math.exp(from);
      const factor = Math.exp(step);
      for (let k = 0; k < POINTS; k += 1) {
        const room = animals - seen + 1;
        animals *= factor;
        if (room <= 0) out[k] = Number.NEGATIVE_INFINITY;
        else if (room < 1) out[k] = table[0]! + Math.log(room);
        else out[k] = tableAt(table, Math.log(room) / UNSEEN_STEP);
      }
    },
  };
}

/** Cubic (Lagrange) inside the table, a straight line beyond it (there the likelihood is a power of N). */
function tableAt(table: Float64Array, t: number): number {
  const last = table.length - 1;
  if (t >= last - 1) return table[last - 1]! + (t - last + 1) * (table[last]! - table[last - 1]!);
  const k = Math.max(1, t | 0);
  const f = t - k;
  const e = 1 - f;
  const a = table[k - 1]!;
  const b = table[k]!;
  const c = table[k + 1]!;
  const d = table[k + 2]!;
  return e * b + f * c - (f * e * ((1 + e) * (a - 2 * b + c) + (1 + f) * (b - 2 * c + d))) / 6;
}
