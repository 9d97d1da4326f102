/** Figures of many runs, milliseconds. */
export type Spread = { median: number; p95: number; runs: number };

export function spreadOf(times: readonly number[]): Spread {
  const sorted = [...times].sort((a, b) => a - b);
  const at = (share: number) =>
    sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;
  return { median: at(0.5), p95: at(0.95), runs: sorted.length };
}

/** Runs the two in turn, A B A B ..., so that a machine that slows down slows both. */
export async function inTurn(runs: number, a: () => Promise<unknown>, b: () => Promise<unknown>) {
  const times: [number[], number[]] = [[], []];
  for (let i = 0; i < runs + 3; i += 1) {
    for (const [which, work] of [a, b].entries()) {
      const start = performance.now();
      await work();
      if (i >= 3) times[which as 0 | 1].push(performance.now() - start);
    }
  }
  return [spreadOf(times[0]), spreadOf(times[1])] as const;
}

export const ms = (value: number) => `${value.toFixed(2)} ms`;
