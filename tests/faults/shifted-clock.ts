import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect } from 'vitest';
import { type Running, startService } from './storm.ts';

const library = '/usr/lib/x86_64-linux-gnu/faketime/libfaketimeMT.so.1';

/**
 * The service as it is really started, under a clock that a test shifts while it runs (Linux, libfaketime). Only the time
 * of day jumps; Node's own waiting goes by a clock that does not.
 */
export function shiftedClock() {
  expect(existsSync(library), 'apt-get install faketime').toBe(true);
  const folder = mkdtempSync(join(tmpdir(), 'shifted-'));
  const file = join(folder, 'clock');
  const running: Running[] = [];
  let aheadMs = 0;
  const jump = (ms: number) => {
    aheadMs = ms;
    writeFileSync(file, `${ms < 0 ? '-' : '+'}${Math.abs(ms) / 1_000}\n`);
  };
  jump(0);
  return {
    jump,
    aheadMs: () => aheadMs,
    async begin(data: string, settings: Record<string, string> = {}): Promise<Running> {
      const service = await startService(data, {
        LOG_LEVEL: 'info',
        ...settings,
        LD_PRELOAD: library,
        FAKETIME_TIMESTAMP_FILE: file,
        FAKETIME_NO_CACHE: '1',
        FAKETIME_DONT_FAKE_MONOTONIC: '1',
      });
      running.push(service);
      expect(service.address, service.said()).not.toBe('');
      return service;
    },
    end() {
      for (const { child } of running) child.kill('SIGKILL');
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** Lines of the log that say something went wrong, or that are no lines of ours. */
export const wrongLines = (said: string) =>
  said
    .split('\n')
    .filter((line) => line.startsWith('{') && (JSON.parse(line) as { level: number }).level >= 50);
