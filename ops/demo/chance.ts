import { randomBeta, randomBinomial, randomLcg, randomNormal, randomPoisson } from 'd3-random';

/** Draws from one fixed seed: the same demo on every machine. */
export type Chance = ReturnType<typeof makeChance>;

export function makeChance(seed: number) {
  const source = randomLcg(seed);
  const whole = (from: number, to: number) => from + Math.floor(source() * (to - from + 1));
  return {
    whole,
    happens: (probability: number) => source() < probability,
    normal: () => randomNormal.source(source)(0, 1)(),
    logNormal: (median: number, sdLog: number) =>
      median * Math.exp(sdLog * randomNormal.source(source)(0, 1)()),
    beta: (alpha: number, beta: number) => randomBeta.source(source)(alpha, beta)(),
    binomial: (n: number, p: number) =>
      n > 0 ? randomBinomial.source(source)(n, Math.min(1, Math.max(0, p)))() : 0,
    poisson: (mean: number) => randomPoisson.source(source)(mean)(),
    pick: <T>(list: readonly T[]): T => list[Math.floor(source() * list.length)] as T,
  };
}
