import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Arrival,
  fitArrivals,
  lackFor,
  lossAt,
  tempAtLoss,
} from '../../shared/arrivals/arrival-curve.ts';
import { randomFrom } from '../support/random.ts';

const near = (value: number | undefined, wanted: number, within: number) =>
  expect(Math.abs((value ?? Number.NaN) - wanted)).toBeLessThanOrEqual(within);

const fitted = (arrivals: readonly Arrival[], penalty?: 'none') => {
  const curve = fitArrivals(arrivals, penalty);
  if (!curve) throw new Error('no curve');
  return curve;
};

/**
 * Flights of a space shuttle: degrees Fahrenheit at launch, and whether an O-ring was damaged. Dalal, Fowlkes and Hoadley
 * (1989), Journal of the American Statistical Association 84, 945; data and coefficients from memory, as textbooks have
 * them: intercept 15.043 (standard error 7.379), slope -0.2322 (0.1082).
 */
const flights: Arrival[] = (
  [
    [66, 0],
    [70, 1],
    [69, 0],
    [68, 0],
    [67, 0],
    [72, 0],
    [73, 0],
    [70, 0],
    [57, 1],
    [63, 1],
    [70, 1],
    [78, 0],
    [67, 0],
    [53, 1],
    [67, 0],
    [75, 0],
    [70, 0],
    [81, 0],
    [76, 0],
    [79, 0],
    [75, 1],
    [76, 0],
    [58, 1],
  ] as const
).map(([tempC, dead]) => ({ tempC, sent: 1, dead }));

/**
 * Beetles after five hours of carbon disulphide: log10 of the dose, beetles, dead. Bliss (1935), Annals of Applied Biology
 * 22, 134; coefficients from Dobson, An Introduction to Generalized Linear Models, section 7.3, from memory: -60.72
 * (5.18) and 34.27 (2.91), half of them dead at 1.7717.
 */
const beetles: Arrival[] = (
  [
    [1.6907, 59, 6],
    [1.7242, 60, 13],
    [1.7552, 62, 18],
    [1.7842, 56, 28],
    [1.8113, 63, 52],
    [1.8369, 59, 53],
    [1.861, 62, 61],
    [1.8839, 60, 60],
  ] as const
).map(([tempC, sent, dead]) => ({ tempC, sent, dead }));

describe('the curve of arrivals, without penalty', () => {
  it('agrees with the textbooks on the shuttle flights', () => {
    const curve = fitted(flights, 'none');
    near(curve.slopePerC, -0.2322, 5e-4);
    near(curve.intercept - curve.slopePerC * curve.centreC, 15.043, 5e-3);
    near(Math.sqrt(curve.covariance.slope / curve.spread), 0.1082, 5e-4);
  });

  it('agrees with them on the beetles, and on the dose that kills half', () => {
    const curve = fitted(beetles, 'none');
    near(curve.slopePerC, 34.27, 0.02);
    near(curve.intercept - curve.slopePerC * curve.centreC, -60.72, 0.02);
    near(Math.sqrt(curve.covariance.slope / curve.spread), 2.91, 0.01);
    near(tempAtLoss(curve, 0.5)?.tempC, 1.7717, 2e-4);
    // Pearson's chi-square is 10.03 on 6 degrees of freedom (Dobson, from memory)
    near(curve.spread, 10.03 / 6, 0.01);
  });

  it('finds no top where cold and warm are parted', () => {
    const parted = [4, 5, 6, 15, 16, 17].map((tempC) => ({ tempC, sent: 10, dead: tempC < 10 ? 10 : 0 }));
    expect(fitArrivals(parted, 'none')).toBeNull();
  });
});

describe("Firth's penalty", () => {
  it('is a half more in every cell where two temperatures are compared', () => {
    // Firth (1993), section 3: in a saturated model the penalty adds 1/2 to each count
    const curve = fitted([
      { tempC: 5, sent: 12, dead: 4 },
      { tempC: 5, sent: 8, dead: 3 },
      { tempC: 20, sent: 30, dead: 0 },
    ]);
    near(lossAt(curve, 5).share, 7.5 / 21, 1e-8);
    near(lossAt(curve, 20).share, 0.5 / 31, 1e-8);
  });

  it('keeps a curve finite when all died below a temperature and none above, or none at all', () => {
    const parted = [4, 5, 6, 15, 16, 17].map((tempC) => ({ tempC, sent: 10, dead: tempC < 10 ? 10 : 0 }));
    const curve = fitted(parted);
    expect(curve.slopePerC).toBeLessThan(0);
    expect(Number.isFinite(curve.slopePerC)).toBe(true);
    const none = fitted(parted.map((one) => ({ ...one, dead: 0 })));
    expect(lossAt(none, 10).share).toBeLessThan(0.03);
    expect(tempAtLoss(none, 0.02)).toBeNull();
  });

  it('hardly matters where there is much data', () => {
    near(fitted(beetles).slopePerC, 34.27, 0.5);
  });
});

describe('a curve', () => {
  it('is finite or none, whatever arrived', () => {
    const parcel = fc
      .record({
        tempC: fc.double({ min: -30, max: 60, noNaN: true }),
        sent: fc.integer({ min: 0, max: 500 }),
        share: fc.double({ min: 0, max: 1, noNaN: true }),
      })
      .map(({ tempC, sent, share }) => ({ tempC, sent, dead: Math.floor(share * sent) }));
    fc.assert(
      fc.property(
        fc.array(parcel, { maxLength: 30 }),
        fc.double({ min: -30, max: 60, noNaN: true }),
        (arrivals, at) => {
          const curve = fitArrivals(arrivals);
          if (!curve) return;
          const { share, low, high } = lossAt(curve, at);
          expect(0 <= low && low <= share && share <= high && high <= 1).toBe(true);
          const limit = tempAtLoss(curve, 0.02);
          if (limit) expect(limit.low <= limit.tempC + 1e-9 && limit.tempC <= limit.high + 1e-9).toBe(true);
        },
      ),
      { numRuns: 60 },
    );
  });

  it('needs three parcels at more than one temperature', () => {
    expect(fitArrivals([])).toBeNull();
    expect(fitArrivals([5, 5, 5, 5].map((tempC) => ({ tempC, sent: 10, dead: 1 })))).toBeNull();
  });

  it('is drawn once there is enough, by the stated rule', () => {
    const some = (parcels: number, withLosses: number, spanC: number) =>
      Array.from({ length: parcels }, (_, i) => ({
        tempC: 5 + (spanC * i) / parcels,
        sent: 12,
        dead: i < withLosses ? 1 : 0,
      }));
    expect(lackFor(some(19, 9, 9))).toBe('parcels');
    expect(lackFor(some(20, 4, 9))).toBe('withLosses');
    expect(lackFor(some(20, 5, 3))).toBe('spanC');
    expect(lackFor(some(20, 5, 9))).toBeNull();
  });

  it('recovers what parcels were drawn from, with intervals that hold what they promise though parcels differ', () => {
    const random = randomFrom(20_261_125);
    const logitAt = (tempC: number) => -1.2 - 0.35 * (tempC - 6);
    const trueLimitC = 6 + (-1.2 - Math.log(0.05 / 0.95)) / 0.35;
    let [held, told] = [0, 0];
    const rounds = 200;
    for (let round = 0; round < rounds; round += 1) {
      const arrivals = Array.from({ length: 60 }, () => {
        const tempC = 2 + 16 * random.uniform();
        // each parcel has luck of its own
        const logit = logitAt(tempC) + 0.5 * random.normal();
        return { tempC, sent: 12, dead: random.binomial(12, 1 / (1 + Math.exp(-logit))) };
      });
      const limit = tempAtLoss(fitted(arrivals), 0.05);
      if (!limit) continue;
      told += 1;
      if (limit.low <= trueLimitC && trueLimitC <= limit.high) held += 1;
    }
    expect(told).toBeGreaterThan(0.95 * rounds);
    expect(held / told).toBeGreaterThan(0.88);
  });
});
