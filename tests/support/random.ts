/** Draws with a fixed seed, for tests that simulate: the same numbers on every machine. */
export interface Random {
  uniform(): number;
  normal(): number;
  gamma(shape: number): number;
  beta(alpha: number, beta: number): number;
  binomial(n: number, p: number): number;
  poisson(mean: number): number;
}

/**
 * A 32-bit counter through a mixing step (Steele, Lea and Flood 2014, the SplitMix idea); normal after Box and
 * Muller (1958), gamma after Marsaglia and Tsang (2000), the rest from these.
 */
export function randomFrom(seed: number): Random {
  let state = seed | 0;
  const uniform = (): number => {
    state = (state + 0x9e3779b9) | 0;
    let mixed = Math.imul(state ^ (state >>> 16), 0x21f0aaad);
    mixed = Math.imul(mixed ^ (mixed >>> 15), 0x735a2d97);
    return ((mixed ^ (mixed >>> 15)) >>> 0) / 2 ** 32;
  };
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  const gamma = (shape: number): number => {
    if (shape < 1) return gamma(shape + 1) * (1 - uniform()) ** (1 / shape);
    const d = shape - 1 / 3;
    const c = 1 / Math.sqrt(9 * d);
    for (;;) {
      const x = normal();
      const v = (1 + c * x) ** 3;
      if (v > 0 && Math.log(1 - uniform()) < 0.5 * x * x + d - d * v + d * Math.log(v)) return d * v;
    }
  };
  const beta = (a: number, b: number): number => {
    const x = gamma(a);
    return x / (x + gamma(b));
  };
  const binomial = (n: number, p: number): number => {
    let hits = 0;
    for (let i = 0; i < n; i += 1) if (uniform() < p) hits += 1;
    return hits;
  };
  // Waiting times of rate 1 until they exceed the mean: sums of logarithms do not underflow.
  const poisson = (mean: number): number => {
    let hits = -1;
    for (let waited = 0; waited <= mean; hits += 1) waited -= Math.log(1 - uniform());
    return hits;
  };
  return { uniform, normal, gamma, beta, binomial, poisson };
}
