import type { PopulationInput } from '../../../shared/counts/population/form.ts';
import { daysBetween } from '../../../shared/days.ts';
import { logGamma } from '../../../shared/numbers/log-gamma.ts';
import { normalCdf } from '../../../shared/numbers/normal.ts';
import { type Random, randomFrom } from '../../support/random.ts';

/**
 * The same questions by brute force: very many cultures drawn from the priors, each let live on, weighed by
 * how well it explains the counts, and drawn anew by weight when few are left that count (a plain bootstrap
 * particle filter: Gordon, Salmond and Smith 1993). Shares no code with the filter but the gamma function.
 */
export interface Cloud {
  readonly number: Float64Array;
  readonly growth: Float64Array;
  readonly capacity: Float64Array;
  readonly weight: Float64Array;
}

export interface ReferenceAnswer {
  now: number[];
  fullness: number[];
  growth: number[];
  capacity: number[];
  ahead: number[];
  mean: number;
  extinct: number;
}

type Event = NonNullable<PopulationInput['events']>[number];
type Count = Extract<Event, { kind: 'count' }>;

/** Quantiles 5 %, 50 % and 95 % of everything, `weeks` ahead too. */
export function reference(input: PopulationInput, particles: number, seed: number): ReferenceAnswer {
  const random = randomFrom(seed);
  let cloud = drawn(input, particles, random);
  let day = input.start.date;
  const live = (days: number) => {
    if (days > 0) grow(cloud, days / 7, input.profile.processSd, random);
  };
  for (const event of input.events ?? []) {
    live(daysBetween(day, event.date));
    day = event.date;
    if (event.kind === 'count') cloud = weigh(cloud, event, random);
    else shift(cloud, event, random);
  }
  live(daysBetween(day, input.asOf));
  cloud = resampled(cloud, random);
  const { number, growth, capacity } = cloud;
  const answer = {
    now: quantiles(number),
    fullness: quantiles(number.map((n, i) => n / capacity[i]!)),
    growth: quantiles(growth),
    capacity: quantiles(capacity),
    mean: number.reduce((sum, n) => sum + n, 0) / particles,
    extinct: number.reduce((sum, n) => sum + (n === 0 ? 1 : 0), 0) / particles,
  };
  for (let week = 0; week < (input.horizonWeeks ?? 8); week += 1) live(7);
  return { ...answer, ahead: quantiles(cloud.number) };
}

function drawn({ start, profile }: PopulationInput, particles: number, random: Random): Cloud {
  const logNormal = ({ median, sdLog }: { median: number; sdLog: number }) =>
    Float64Array.from({ length: particles }, () => median * Math.exp(sdLog * random.normal()));
  return {
    number: logNormal({ median: start.animals, sdLog: start.sdLog }).map(living),
    growth: logNormal(profile.growthPerWeek),
    capacity: logNormal(profile.capacity),
    weight: new Float64Array(particles).fill(1 / particles),
  };
}

function living(number: number): number {
  return number < 0.5 ? 0 : number;
}

function grow({ number, growth, capacity }: Cloud, weeks: number, processSd: number, random: Random): void {
  const sd = processSd * Math.sqrt(weeks);
  for (let i = 0; i < number.length; i += 1) {
    const n = number[i]!;
    if (n === 0) continue;
    const rise = Math.exp(growth[i]! * weeks);
    const k = capacity[i]!;
    number[i] = living(((k * n * rise) / (k + n * (rise - 1))) * Math.exp(sd * random.normal()));
  }
}

function shift({ number }: Cloud, event: Exclude<Event, Count>, random: Random): void {
  for (let i = 0; i < number.length; i += 1) {
    const n = number[i]!;
    if (event.kind === 'removed') number[i] = living(n - event.animals);
    else if (event.kind === 'added') number[i] = n + event.animals;
    else number[i] = living(n * event.survival.median * Math.exp(event.survival.sdLog * random.normal()));
  }
}

function weigh(cloud: Cloud, count: Count, random: Random): Cloud {
  const { weight, number } = cloud;
  let sum = 0;
  for (let i = 0; i < weight.length; i += 1) {
    weight[i] = weight[i]! * likelihood(count, number[i]!);
    sum += weight[i]!;
  }
  let squares = 0;
  for (let i = 0; i < weight.length; i += 1) {
    weight[i] = weight[i]! / sum;
    squares += weight[i]! ** 2;
  }
  return 1 / squares < 0.5 * weight.length ? resampled(cloud, random) : cloud;
}

/** Systematic resampling. */
function resampled(cloud: Cloud, random: Random): Cloud {
  const count = cloud.weight.length;
  const from = new Int32Array(count);
  let at = 0;
  let reached = cloud.weight[0]!;
  const offset = random.uniform() / count;
  for (let i = 0; i < count; i += 1) {
    while (reached < offset + i / count && at < count - 1) {
      at += 1;
      reached += cloud.weight[at]!;
    }
    from[i] = at;
  }
  const pick = (values: Float64Array) => Float64Array.from(from, (i) => values[i]!);
  return {
    number: pick(cloud.number),
    growth: pick(cloud.growth),
    capacity: pick(cloud.capacity),
    weight: new Float64Array(count).fill(1 / count),
  };
}

function likelihood(count: Count, n: number): number {
  switch (count.method) {
    case 'full': {
      const sd = count.relativeSd ?? 0.05;
      if (count.counted === 0) return n === 0 ? 1 : normalCdf((Math.log(0.5) - Math.log(n)) / sd);
      // Half an animal of rounding: a uniform error has variance 1/12.
      const variance = sd ** 2 + 1 / (12 * count.counted ** 2);
      return n === 0 ? 0 : Math.exp(-(Math.log(count.counted / n) ** 2 / (2 * variance)));
    }
    case 'visible': {
      const { alpha, beta } = count.detection;
      const y = count.counted;
      if (n === 0) return y === 0 ? 1 : 0;
      if (n <= y - 1) return 0;
      const m = Math.max(n, y);
      const log =
        logGamma(m + 1) -
        logGamma(m - y + 1) +
        logGamma(m - y + beta) -
        logGamma(m + alpha + beta) -
        logGamma(y + 1) +
        logGamma(y + alpha) -
        logGamma(alpha) -
        logGamma(beta) +
        logGamma(alpha + beta);
      return Math.exp(log) * Math.min(1, n - y + 1);
    }
    case 'sample': {
      const size = count.clumping ?? 4;
      const y = count.counted;
      const mean = count.fraction * n;
      if (n === 0) return y === 0 ? 1 : 0;
      const choose = logGamma(y + size) - logGamma(size) - logGamma(y + 1);
      return Math.exp(choose + size * Math.log(size / (size + mean)) + y * Math.log(mean / (size + mean)));
    }
    default:
      throw new Error('no reference for this method');
  }
}

function quantiles(values: Float64Array): number[] {
  const sorted = values.slice().sort();
  return [0.05, 0.5, 0.95].map((p) => sorted[Math.ceil(p * sorted.length) - 1]!);
}
