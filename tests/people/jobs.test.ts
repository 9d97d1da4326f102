import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { jobs } from '../../server/jobs.ts';
import { addLink, openLink } from '../../server/people/queries-links.ts';
import { beginTry, rememberDevice } from '../../server/people/queries-tries.ts';
import { type Job, runJobs, startJobs } from '../../server/plumbing/jobs.ts';
import * as tables from '../../server/schema/tables.ts';
import { cast, type TestApp, testApp } from '../support/test-app.ts';

const log = { info: vi.fn(), error: vi.fn() };
const partsOf = (t: TestApp) => ({ db: t.db, clock: t.clock, log });
const rows = (t: TestApp, table: string) =>
  (t.sqlite.prepare(`SELECT count(*) AS n FROM ${table}`).get() as { n: number }).n;

beforeEach(() => {
  vi.clearAllMocks();
});

describe('the jobs', () => {
  it('take away what is over, each in its time, and nothing else', async () => {
    const t = await testApp();
    const now = t.clock.now();
    beginTry(t.db, { signInName: 'olive', address: '192.0.2.1', knownDevice: null }, now);
    addLink(t.db, { token: 'a'.repeat(43), purpose: 'invitation', name: 'Pat', role: 'helper', now });
    rememberDevice(t.db, cast.owner.id, 'device', now);
    await t.owner.save('/account', { name: 'Olive Owner', scheme: 'light' });
    t.db
      .insert(tables.importDrafts)
      .values({ id: 'draft', fileName: 'a.csv', bytes: Buffer.from('x'), madeBy: cast.owner.id, madeAt: now })
      .run();
    const counts = () =>
      ['sessions', 'sign_in_tries', 'one_time_links', 'form_keys', 'import_drafts', 'known_devices'].map(
        (table) => rows(t, table),
      );

    expect(counts()).toEqual([2, 1, 1, 1, 1, 1]);
    const expected: [number, number[]][] = [
      [0, [2, 1, 1, 1, 1, 1]],
      [6.9, [2, 1, 1, 1, 1, 1]],
      [7.1, [2, 0, 0, 1, 0, 1]],
      [29.9, [2, 0, 0, 1, 0, 1]],
      [30.1, [0, 0, 0, 0, 0, 1]],
      [401, [0, 0, 0, 0, 0, 0]],
    ];
    for (const [days, left] of expected) {
      t.clock.at = now + days * 86_400_000;
      runJobs(jobs, partsOf(t));
      expect([days, counts()]).toEqual([days, left]);
    }
    expect(log.error).not.toHaveBeenCalled();
  });

  it('take away used links before their time', async () => {
    const t = await testApp();
    const now = t.clock.now();
    addLink(t.db, { token: 'b'.repeat(43), purpose: 'invitation', name: 'Pat', role: 'helper', now });
    t.sqlite.prepare('UPDATE one_time_links SET used_at = ?').run(now);
    runJobs(jobs, partsOf(t));
    expect(openLink(t.db, 'invitation', 'b'.repeat(43), now)).toBeNull();
    expect(rows(t, 'one_time_links')).toBe(0);
  });

  it('go on when one fails, and the failure is written down', async () => {
    const t = await testApp();
    const fails: Job = {
      name: 'fails',
      run: () => {
        throw new Error('broken');
      },
    };
    const works = { name: 'works', run: vi.fn(() => 3) };
    runJobs([fails, works], partsOf(t));
    expect(works.run).toHaveBeenCalledWith(t.db, t.clock.now());
    expect(log.error).toHaveBeenCalledWith(expect.objectContaining({ job: 'fails' }), 'job failed');
    expect(log.info).toHaveBeenCalledWith({ job: 'works', rows: 3 }, 'job done');
  });
});

describe('the round of jobs', () => {
  beforeEach(() => {
    vi.useFakeTimers();
  });
  afterEach(() => {
    vi.useRealTimers();
  });

  it('begins at once, comes back, and stops', () => {
    const run = vi.fn(() => 0);
    const parts = { db: {} as TestApp['db'], clock: { now: () => 1 }, log, isSteady: () => false };
    const waiting = vi.fn(() => 0);
    const stop = startJobs(
      [
        { name: 'counted', run },
        { name: 'forgets', waits: true, run: waiting },
      ],
      parts,
    );
    expect(run).toHaveBeenCalledTimes(1);
    vi.advanceTimersByTime(10 * 60_000);
    expect(run).toHaveBeenCalledTimes(3);
    expect(waiting).not.toHaveBeenCalled();
    stop();
    vi.advanceTimersByTime(60 * 60_000);
    expect(run).toHaveBeenCalledTimes(3);
  });
});
