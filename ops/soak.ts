import { spawn } from 'node:child_process';
import { randomInt } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

// Asks the property tests new questions for as long as it is left to: `npm run soak -- 30` for half an hour, else ten
// minutes. It stops at the first failure, or where one run takes so long that something must be going round in circles.

const minutes = Number(process.argv[2] ?? 10);
if (!(minutes > 0)) {
  console.error('How many minutes? For example: npm run soak -- 30');
  process.exit(2);
}
const LONGEST_RUN_MS = 600_000;
const root = fileURLToPath(new URL('..', import.meta.url));

const files = readdirSync(join(root, 'tests'), { recursive: true, encoding: 'utf8' })
  .filter((path) => /\.test\.tsx?$/.test(path))
  .map((path) => join('tests', path))
  .filter((path) => readFileSync(join(root, path), 'utf8').includes("from 'fast-check'"));

function ask(seed: number): Promise<number> {
  return new Promise((resolve) => {
    const vitest = join(root, 'node_modules/vitest/vitest.mjs');
    const child = spawn(process.execPath, [vitest, 'run', '--reporter=dot', ...files], {
      cwd: root,
      env: { ...process.env, PROPERTY_SEED: String(seed) },
      stdio: 'inherit',
      timeout: LONGEST_RUN_MS,
      killSignal: 'SIGKILL',
    });
    child.once('exit', (code) => resolve(code ?? 1));
  });
}

const end = Date.now() + minutes * 60_000;
let runs = 0;
while (Date.now() < end) {
  const seed = randomInt(2 ** 31);
  console.log(`Seed ${seed}. To ask the same again: PROPERTY_SEED=${seed} npm test`);
  if ((await ask(seed)) !== 0) {
    console.error(`Failed, or was stopped after ${LONGEST_RUN_MS / 60_000} minutes, with seed ${seed}.`);
    process.exit(1);
  }
  runs += 1;
}
console.log(`${runs} runs of ${files.length} files, none failed.`);
