import { spreadOf } from '../bench/timing.ts';
import type { Answered } from './person.ts';
import type { Sample } from './service.ts';

export const isFailed = ({ status }: Answered) => status === 0 || status >= 400;
const fixed = (value: number, width = 8) => value.toFixed(1).padStart(width);

export function percentile(times: readonly number[], share: number): number {
  const sorted = [...times].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;
}

/** A paper is set page by page in a thread; nobody waits for it as for a page. */
const paperGoalMs = 3_000;
export const goalOf = (kind: string, goalMs: number) => (kind.endsWith('PDF') ? paperGoalMs : goalMs);

const timesOf = (answers: readonly Answered[]) => answers.map(({ tookMs }) => tookMs);

/** A line for every kind of page: how many, half, nineteen of twenty, ninety-nine of a hundred, the worst. */
export function sayPages(answers: readonly Answered[], goalMs: number): void {
  console.log(`${'page'.padEnd(26)}${'requests'.padStart(9)}     p50     p95     p99     max   ms   failed`);
  for (const kind of [...new Set(answers.map((one) => one.kind))].sort()) {
    const own = answers.filter((one) => one.kind === kind);
    const times = timesOf(own);
    const { median, p95 } = spreadOf(times);
    const failed = own.filter(isFailed).length;
    const goal = goalOf(kind, goalMs);
    const over = p95 > goal ? `  over ${goal}` : '';
    console.log(
      `${kind.padEnd(26)}${String(own.length).padStart(9)}${[median, p95, percentile(times, 0.99), percentile(times, 1)].map((value) => fixed(value)).join('')}   ${String(failed).padStart(8)}${over}`,
    );
  }
}

/** Memory, log and loop over time, a line for every tenth of the run. */
export function saySamples(samples: readonly Sample[]): void {
  console.log('  minute   RSS MB  heap MB   WAL MB  loop p99 ms   files   processor %');
  const step = Math.max(1, Math.floor(samples.length / 10));
  const first = samples[0];
  for (let at = step; at < samples.length; at += step) {
    const [before, now] = [samples[at - step]!, samples[at]!];
    const loop = Math.max(...samples.slice(at - step + 1, at + 1).map((one) => one.loopP99Ms));
    const busy = ((now.cpuSeconds - before.cpuSeconds) / ((now.atMs - before.atMs) / 1000)) * 100;
    const minute = (now.atMs - first!.atMs) / 60_000;
    console.log(
      `${fixed(minute)} ${fixed(now.rssMb)} ${fixed(now.heapMb)} ${fixed(now.walMb)} ${fixed(loop, 12)} ${String(now.files).padStart(7)} ${fixed(busy, 13)}`,
    );
  }
}

/**
 * The slope of memory by least squares and its standard error, MB an hour, leaving out the first third in which caches
 * fill. What is measured goes up and down by tens of megabytes as it is collected, so a short run says little.
 */
export function slopeMbPerHour(samples: readonly Sample[]): { slope: number; doubt: number } {
  const later = samples.slice(Math.floor(samples.length / 3));
  const mean = (values: readonly number[]) => values.reduce((sum, one) => sum + one, 0) / values.length;
  const hours = later.map(({ atMs }) => atMs / 3_600_000);
  const [meanHour, meanMb] = [mean(hours), mean(later.map(({ rssMb }) => rssMb))];
  const above = later.map(({ rssMb }, i) => ({ hour: hours[i]! - meanHour, mb: rssMb - meanMb }));
  const spread = above.reduce((sum, { hour }) => sum + hour ** 2, 0);
  const slope = above.reduce((sum, { hour, mb }) => sum + hour * mb, 0) / spread;
  const rest = above.reduce((sum, { hour, mb }) => sum + (mb - slope * hour) ** 2, 0);
  return { slope, doubt: Math.sqrt(rest / Math.max(1, later.length - 2) / spread) };
}
