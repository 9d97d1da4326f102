// `npm run prove -- damage`: the wide form of a proof of which the suite runs a small one, or one that needs what a
// build machine has not (root, a disk of its own). Last figures: DEVELOPERS.md, "Proofs by command".
import { spawn } from 'node:child_process';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const proofs: Record<string, { what: string; file: string; env: Record<string, string> }> = {
  'small-disk': {
    what: 'a disk of 64 MB is filled during everything (root, Linux)',
    file: 'tests/faults/small-disk.proof.ts',
    env: {},
  },
};

const [name = ''] = process.argv.slice(2);
const proof = proofs[name];
if (proof) {
  const root = fileURLToPath(new URL('..', import.meta.url));
  const vitest = join(root, 'node_modules/vitest/vitest.mjs');
  const child = spawn(process.execPath, [vitest, 'run', proof.file, '--disable-console-intercept'], {
    cwd: root,
    env: { ...proof.env, ...process.env, PROVE: name },
    stdio: 'inherit',
  });
  child.once('exit', (code) => {
    process.exitCode = code ?? 1;
  });
} else {
  const list = Object.entries(proofs).map(([one, { what }]) => `  ${one.padEnd(12)} ${what}`);
  console.error(['What is to be proven?', ...list].join('\n'));
  process.exitCode = 2;
}
