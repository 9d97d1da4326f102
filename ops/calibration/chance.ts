import { randomBeta, randomBinomial, randomGamma, randomNormal, randomPoisson } from 'd3-random';

/** Draws from one seed, the same on every machine. */
export interface Chance {
  uniform(): number;
  normal(): number;
  beta(alpha: number, beta: number): number;
  binomial(n: number, p: number): number;
  /** Negative binomial with this mean and size: Poisson with a gamma-distributed mean. */
  clumped(mean: number, size: number): number;
}

export function chanceFrom(seed: number): Chance {
  // A counter through a mixing step (Steele, Lea and Flood 2014): neighbouring seeds give unrelated streams.
  let state = Math.imul(seed + 1, 0x632be5ab) | 0;
  const uniform = () => {
    state = (state + 0x9e3779b9) | 0;
    let mixed = Math.imul(state ^ (state >>> 16), 0x21f0aaad);
    mixed = Math.imul(mixed ^ (mixed >>> 15), 0x735a2d97);
    return (((mixed ^ (mixed >>> 15)) >>> 0) + 0.5) / 2 ** 32;
  };
  return {
    uniform,
    normal: randomNormal.source(uniform)(),
    beta: (alpha, beta) => randomBeta.source(uniform)(alpha, beta)(),
    binomial: (n, p) => (n > 0 ? randomBinomial.source(uniform)(n, Math.min(1, Math.max(0, p)))() : 0),
    clumped: (mean, size) => {
      if (mean === 0) return 0;
      return randomPoisson.source(uniform)(randomGamma.source(uniform)(size, mean / size)())();
    },
  };
}
