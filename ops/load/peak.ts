import { goalOf, isFailed, percentile, sayPages, saySamples, slopeMbPerHour } from './figures.ts';
import type { Person } from './person.ts';
import { type Act, helperActs, ownerActs } from './roles.ts';
import type { Sample } from './service.ts';
import { openStage, openTheDay, peopleOf, type Stage } from './stage.ts';

export type Peak = {
  minutes: number;
  entries: number;
  helpers: number;
  owners: number;
  /** Between two acts of one person, on average. */
  thinkMs: number;
};

const goalMs = 150;
const wait = (ms: number) => new Promise((next) => setTimeout(next, ms));

/** One person, act after act with pauses for thought, until the time is over. */
async function dayOf(person: Person, act: Act, thinkMs: number, isOver: () => boolean) {
  await wait(Math.random() * thinkMs);
  while (!isOver()) {
    await act(person);
    await wait(thinkMs * (0.6 + 0.8 * Math.random()));
  }
  person.leave();
}

async function sampleUntil(stage: Stage, isOver: () => boolean, everyMs: number) {
  const samples: Sample[] = [];
  while (!isOver()) {
    samples.push(await stage.service.sample());
    await wait(everyMs);
  }
  samples.push(await stage.service.sample());
  return samples;
}

/** Everybody at work on a stage; returns what they saw and what the service said of itself. */
export async function workOn(stage: Stage, o: Omit<Peak, 'entries'>) {
  const endsAt = Date.now() + o.minutes * 60_000;
  const isOver = () => Date.now() >= endsAt;
  const helpers = peopleOf(stage, 'helper', o.helpers);
  const owners = peopleOf(stage, 'owner', o.owners);
  const days = [
    ...helpers.map((person, i) => dayOf(person, helperActs(stage.world, i), o.thinkMs, isOver)),
    ...owners.map((person) => dayOf(person, ownerActs(stage.world), o.thinkMs, isOver)),
  ];
  const everyMs = Math.min(15_000, (o.minutes * 60_000) / 20);
  const [samples] = await Promise.all([sampleUntil(stage, isOver, everyMs), ...days]);
  return { answers: [...helpers, ...owners].flatMap(({ answers }) => answers), samples };
}

/** `npm run load -- peak 10`: a believable peak of a day; the goals of the promise are judged at the end. */
export async function runPeak(o: Peak): Promise<boolean> {
  const nodeOptions = process.env.LOAD_PROFILE
    ? ['--cpu-prof', `--cpu-prof-dir=${process.env.LOAD_PROFILE}`]
    : [];
  const stage = await openStage(o.entries, { name: 'peak', nodeOptions });
  await openTheDay([stage]);
  console.log(
    `${o.helpers} helpers and ${o.owners} owners, ${o.entries} entries, an act every ${o.thinkMs / 1000} s each, for ${o.minutes} minutes`,
  );
  const { answers, samples } = await workOn(stage, o);
  await stage.service.stop();
  sayPages(answers, goalMs);
  saySamples(samples);
  const failed = answers.filter(isFailed);
  const kinds = [...new Set(answers.map(({ kind }) => kind))];
  const slow = kinds.filter((kind) => {
    const times = answers.filter((one) => one.kind === kind).map(({ tookMs }) => tookMs);
    return percentile(times, 0.95) > goalOf(kind, goalMs);
  });
  const cpuSeconds = samples.at(-1)!.cpuSeconds - samples[0]!.cpuSeconds;
  console.log(
    `${answers.length} requests, ${((cpuSeconds / answers.length) * 1000).toFixed(1)} ms of processor each; ${failed.length} failed; p95 over ${goalMs} ms: ${slow.join(', ') || 'none'}; memory ${slopeMbPerHour(samples).slope.toFixed(1)} MB an hour`,
  );
  for (const { kind, status } of failed.slice(0, 5)) console.log(`failed: ${kind}, status ${status}`);
  if (stage.service.said().includes('"level":5')) console.log(stage.service.said().slice(-2_000));
  return failed.length === 0 && slow.length === 0;
}
