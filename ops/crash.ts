// `npm run crash -- 200`: starts the service and kills it in the middle of a storm of writes, two hundred times over,
// and compares what it said it had written with what is there. A thousand kills take about two hours.
import { spawn } from 'node:child_process';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const kills = Number(process.argv[2] ?? 50);
if (!Number.isInteger(kills) || kills < 1 || kills > 5_000) {
  console.error('How many kills? For example: npm run crash -- 200');
  process.exit(2);
}
const root = fileURLToPath(new URL('..', import.meta.url));
const seed = String(Math.floor(Math.random() * 2 ** 31));
console.log(`${kills} kills, seed ${seed} (CRASH_SEED asks the same again)`);
const vitest = join(root, 'node_modules/vitest/vitest.mjs');
const child = spawn(process.execPath, [vitest, 'run', 'tests/faults/kill.test.ts'], {
  cwd: root,
  env: { CRASH_SEED: seed, ...process.env, CRASH_KILLS: String(kills) },
  stdio: 'inherit',
});
child.once('exit', (code) => {
  process.exitCode = code ?? 1;
});
