import { spawn } from 'node:child_process';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));

/**
 * Runs test files for a command, in a process group of their own: whatever they started (a service, what it is traced
 * or shut in by) ends with them, also when the command itself is told to stop or they fail halfway. What is set in the
 * environment already counts before `env`.
 */
export function runTests(
  files: readonly string[],
  env: Record<string, string>,
  within: readonly string[] = [],
) {
  const vitest = join(root, 'node_modules/vitest/vitest.mjs');
  const [command = '', ...before] = [...within, process.execPath];
  const child = spawn(command, [...before, vitest, 'run', ...files, '--disable-console-intercept'], {
    cwd: root,
    env: { ...env, ...process.env },
    stdio: 'inherit',
    detached: true,
  });
  const endAll = (signal: NodeJS.Signals) => {
    try {
      if (child.pid) process.kill(-child.pid, signal);
    } catch {
      // Nobody of them is left.
    }
  };
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const)
    process.once(signal, () => endAll('SIGKILL'));
  child.once('error', (error) => {
    console.error(error.message);
    process.exitCode = 1;
  });
  child.once('exit', (code) => {
    endAll('SIGKILL');
    process.exitCode = code ?? 1;
  });
}
