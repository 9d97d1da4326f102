import { isFailed, percentile, sayPages, saySamples, slopeMbPerHour } from './figures.ts';
import { workOn } from './peak.ts';
import type { Answered } from './person.ts';
import { openStage, openTheDay } from './stage.ts';

const mostSlope = 1;
const mostWalMb = 64;
const mostGrowth = 1.2;

const p99Between = (answers: readonly Answered[], from: number, until: number) =>
  percentile(
    answers.filter(({ atMs }) => atMs >= from && atMs < until).map(({ tookMs }) => tookMs),
    0.99,
  );

/** `npm run load -- steady 120`: mixed work at about half of what the machine can do, for hours: does anything grow? */
export async function runSteady(minutes: number, entries: number, thinkMs: number): Promise<boolean> {
  const stage = await openStage(entries, { name: 'steady' });
  await openTheDay([stage]);
  const { answers, samples } = await workOn(stage, { minutes, helpers: 20, owners: 2, thinkMs });
  const { service } = stage;
  await service.stop();
  sayPages(answers, 150);
  saySamples(samples);
  const [first, last] = [samples[0]!, samples.at(-1)!];
  const tenth = Math.min(10, minutes / 3) * 60_000;
  const early = p99Between(answers, first.atMs, first.atMs + tenth);
  const late = p99Between(answers, last.atMs - tenth, last.atMs);
  const { slope, doubt } = slopeMbPerHour(samples);
  const wal = Math.max(...samples.map(({ walMb }) => walMb));
  const failed = answers.filter(isFailed).length;
  const busy = ((last.cpuSeconds - first.cpuSeconds) / ((last.atMs - first.atMs) / 1000)) * 100;
  const third = samples[Math.floor(samples.length / 3)]!;
  console.log(
    `${answers.length} requests in ${minutes} minutes, ${failed} failed, ${busy.toFixed(0)} % of one processor`,
  );
  console.log(
    `memory ${slope.toFixed(1)} ± ${doubt.toFixed(1)} MB an hour after the first third (goal under ${mostSlope}); files ${third.files} to ${last.files}; log at most ${wal.toFixed(1)} MB (goal under ${mostWalMb}); p99 ${early.toFixed(0)} ms at first, ${late.toFixed(0)} ms at last (goal ${mostGrowth} times)`,
  );
  return failed === 0 && slope < mostSlope && wal < mostWalMb && late <= mostGrowth * early;
}
