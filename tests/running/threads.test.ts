import { readdirSync, readFileSync } from 'node:fs';
import { getPriority } from 'node:os';
import { expect, it } from 'vitest';
import { printWhole } from '../../server/plumbing/print-in-thread.ts';
import { options } from '../documents/sample-orders.ts';

/** The nice value of each thread of this process (proc(5): field 19 of stat, behind a name that may hold anything). */
const nicenesses = () =>
  readdirSync('/proc/self/task').map((thread) => {
    const stat = readFileSync(`/proc/self/task/${thread}/stat`, 'utf8');
    return Number(stat.slice(stat.lastIndexOf(')') + 2).split(' ')[16]);
  });

it('prints in a thread that lets pages go first, and leaves the others as they were', async () => {
  const before = getPriority();
  const printed = await printWhole({ kind: 'packing', orders: [], options, bench: null });
  expect('pdf' in printed).toBe(true);
  expect(nicenesses().filter((nice) => nice === before + 10)).not.toEqual([]);
  expect(getPriority()).toBe(before);
});

it('has every other thread give way as well, before it reads anything else', () => {
  const threads = readdirSync('server', { recursive: true, encoding: 'utf8' }).filter((file) =>
    file.endsWith('-worker.mjs'),
  );
  expect(threads.length).toBeGreaterThan(5);
  for (const file of threads) {
    const [, afterwards = ''] = readFileSync(`server/${file}`, 'utf8').split('register();\n');
    expect(afterwards, file).toMatch(
      /^const \{ giveWay \} = await import\('\.\.?\/(plumbing\/)?give-way\.ts'\);\ngiveWay\(\);\n/,
    );
  }
});
