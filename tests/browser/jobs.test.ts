import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { closeDevices, deviceAt, listening } from '../support/browser.ts';
import { bareApp, type TestApp, testApp } from '../support/test-app.ts';
import { Hand } from './jobs/hand.ts';
import type { JobOf } from './jobs/job.ts';
import { type Mode, modes } from './jobs/mode.ts';
import { officeJobs } from './jobs/office-jobs.ts';
import { orderJobs } from './jobs/order-jobs.ts';
import { stockJobs } from './jobs/stock-jobs.ts';

const jobs: Record<string, JobOf> = { ...stockJobs, ...orderJobs, ...officeJobs };

const names = Object.keys(jobs);

/** Each job in one mode, so that every mode is used; JOBS=all is every job in every mode. */
const asked = names.flatMap((name, i) => {
  const own = process.env.JOBS === 'all' ? modes : [modes[i % modes.length] as Mode];
  return own.map((mode) => ({ name, mode }));
});

let t: TestApp;
let base: string;

beforeAll(async () => {
  t = await testApp();
  base = `http://127.0.0.1:${await listening(t)}`;
});
afterAll(closeDevices);

async function does(name: string, mode: Mode) {
  const { job, who, isNew, alone } = jobs[name] as JobOf;
  const app = isNew ? await bareApp() : alone ? await testApp() : t;
  const at = app !== t ? `http://127.0.0.1:${await listening(app)}` : base;
  const like = {
    serviceWorkers: 'block',
    reducedMotion: 'reduce',
    deviceScaleFactor: mode.zoom,
    hasTouch: mode.viewport.width < 500,
  } as const;
  const { viewport, javaScript } = mode;
  const { page, context } = await deviceAt(app, at, who, { viewport, javaScript, like });
  context.setDefaultTimeout(10_000);
  const hand = await Hand.at(page, at, mode);
  app.sqlite.exec('SAVEPOINT job');
  try {
    await job({ hand, db: app.db, now: app.clock.now() });
    expect(hand.faults).toEqual([]);
  } catch (error) {
    const shown = (
      await page
        .locator('main')
        .ariaSnapshot()
        .catch(() => '')
    )
      .split('\n')
      .filter((line) => !/option|\/url|row|cell/.test(line));
    throw new Error(`${error} ${hand.faults.join('; ')} at ${page.url()}\n${shown.slice(0, 60).join('\n')}`);
  } finally {
    await context.close();
    app.sqlite.exec('ROLLBACK TO job; RELEASE job');
  }
}

describe('somebody', () => {
  it.each(asked.map(({ name, mode }) => [name, mode.name, mode] as const))('%s %s', (name, _mode, mode) =>
    does(name, mode),
  );
});
