import { describe, expect, it } from 'vitest';
import { type DetectionPair, untestedVisits, updateDetection } from '../../shared/counts/detection.ts';
import { CalculationError } from '../../shared/faults.ts';
import { betaQuantile } from '../../shared/numbers/beta.ts';
import { randomFrom } from '../support/random.ts';

const belief = { alpha: 6, beta: 14 };
const visits = untestedVisits;
const meanOf = ({ alpha, beta }: typeof belief) => alpha / (alpha + beta);
const sdOf = (b: typeof belief) => Math.sqrt((meanOf(b) * (1 - meanOf(b))) / (b.alpha + b.beta + 1));

/** Pairs as they would be counted where the share at a visit is Beta(m k, (1 - m) k). */
function simulated(seed: number, count: number, m: number, k: number, relativeSd = 0.05): DetectionPair[] {
  const random = randomFrom(seed);
  return Array.from({ length: count }, () => {
    const animals = 40 + Math.floor(random.uniform() * 160);
    const seen = random.binomial(animals, random.beta(m * k, (1 - m) * k));
    const counted = Math.max(1, Math.round(animals * Math.exp(relativeSd * random.normal())));
    return { seen, counted, relativeSd };
  });
}

describe('what pairs of counts teach of the share that shows', () => {
  it('is nothing without a pair', () => {
    expect(updateDetection({ detection: belief, visits, pairs: [] })).toEqual({ detection: belief, visits });
  });

  it('moves towards what was seen, by as much as one visit says', () => {
    const update = (seen: number) =>
      updateDetection({ detection: belief, visits, pairs: [{ seen, counted: 100, relativeSd: 0.05 }] })
        .detection;
    expect(meanOf(update(60))).toBeGreaterThan(0.32);
    expect(meanOf(update(60))).toBeLessThan(0.42);
    expect(meanOf(update(10))).toBeLessThan(meanOf(belief));
    expect(meanOf(update(30))).toBeCloseTo(meanOf(belief), 1);
  });

  it('does not grow as sure as if every animal were a visit of its own', () => {
    const pair = { seen: 90, counted: 300, relativeSd: 0.02 };
    const { alpha, beta } = updateDetection({ detection: belief, visits, pairs: [pair] }).detection;
    // the belief and 300 tries would be worth 320
    expect(alpha + beta).toBeLessThan(40);
    expect(alpha + beta).toBeGreaterThan(20);
  });

  it('is less when the full count is itself unsure', () => {
    const mean = (relativeSd: number) =>
      meanOf(
        updateDetection({ detection: belief, visits, pairs: [{ seen: 12, counted: 20, relativeSd }] })
          .detection,
      );
    const moved = [0.02, 0.3, 0.8].map((sd) => Math.abs(mean(sd) - meanOf(belief)));
    expect(moved[0]!).toBeGreaterThan(moved[1]!);
    expect(moved[1]!).toBeGreaterThan(moved[2]!);
  });

  it('comes to the truth with many pairs, and keeps what differs from visit to visit', () => {
    const [m, k] = [0.5, 12];
    const { detection, visits: after } = updateDetection({
      detection: belief,
      visits,
      pairs: simulated(7, 60, m, k),
    });
    expect(after).toBe(visits + 60);
    expect(Math.abs(meanOf(detection) - m)).toBeLessThan(0.06);
    const truth = sdOf({ alpha: m * k, beta: (1 - m) * k });
    expect(sdOf(detection) / truth).toBeGreaterThan(0.75);
    expect(sdOf(detection) / truth).toBeLessThan(1.35);
  });

  it('does not depend on the order, and hardly on whether it was learned at once', () => {
    const pairs = simulated(3, 6, 0.4, 20);
    const whole = updateDetection({ detection: belief, visits, pairs }).detection;
    const back = updateDetection({ detection: belief, visits, pairs: [...pairs].reverse() }).detection;
    expect(back.alpha).toBeCloseTo(whole.alpha, 9);
    let step = { detection: belief, visits: visits as number };
    for (const pair of pairs) step = updateDetection({ ...step, pairs: [pair] });
    expect(step.visits).toBe(visits + 6);
    expect(Math.abs(meanOf(step.detection) - meanOf(whole))).toBeLessThan(0.03);
  });

  it('holds the share of the next visit nine times in ten', () => {
    // Simulated from the prior as it is said to be: m with the variance of a mean of `visits` visits, k log-normal
    // with the median at which the next visit has the mean and variance of the belief (worked out apart: 33.14).
    const random = randomFrom(20261125);
    const variance = sdOf(belief) ** 2 / (visits + 1);
    const sure = (meanOf(belief) * (1 - meanOf(belief))) / variance - 1;
    const runs = 300;
    let inside = 0;
    for (let run = 0; run < runs; run += 1) {
      const m = random.beta(meanOf(belief) * sure, (1 - meanOf(belief)) * sure);
      const k = 33.14 * Math.exp(Math.sqrt(2 / (visits - 1)) * random.normal());
      const pairs = simulated(run + 1, 3, m, k);
      const { alpha, beta } = updateDetection({ detection: belief, visits, pairs }).detection;
      const next = random.beta(m * k, (1 - m) * k);
      if (next >= betaQuantile(0.05, alpha, beta) && next <= betaQuantile(0.95, alpha, beta)) inside += 1;
    }
    // nine in ten of 300, give or take three standard errors of 0.0173
    expect(inside / runs).toBeGreaterThan(0.845);
    expect(inside / runs).toBeLessThan(0.955);
  });

  it('refuses pairs that cannot be', () => {
    const of = (pair: DetectionPair) => () => updateDetection({ detection: belief, visits, pairs: [pair] });
    expect(of({ seen: 50, counted: 20, relativeSd: 0.05 })).toThrow(CalculationError);
    expect(of({ seen: 0, counted: 0, relativeSd: 0.05 })).toThrow(CalculationError);
    expect(of({ seen: 21, counted: 20, relativeSd: 0.05 })).not.toThrow();
  });
});
