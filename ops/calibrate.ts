import { fork } from 'node:child_process';
import { argv, exit, stdout } from 'node:process';
import { fileURLToPath } from 'node:url';
import { simulate } from './calibration/history.ts';
import { type Fall, falls, type Quantity } from './calibration/ranks.ts';
import { settings } from './calibration/settings.ts';
import { linesOf } from './calibration/verdict.ts';

/**
 * Simulation-based calibration of the population filter (Talts et al. 2018): histories simulated from the
 * model itself; the 90 % intervals must hold the truth 87 to 93 % of the time, and the truth must fall into
 * every tenth of the posterior equally often.
 *
 *   npm run calibrate              1,000 histories for each setting
 *   npm run calibrate -- 200       fewer
 *   npm run calibrate -- 1000 quiet   one setting
 */
const HISTORIES = 1000;
const WEEKS = 45;
const WORKERS = 2;
/**
 * At 1,000 histories 87 to 93 % is 90 % with 3.16 standard errors either way; fewer are given as many. The
 * chi-square of ten tenths exceeds 33.7 once in 10,000. With 24 lines, a sound filter goes out of bounds in
 * one run of 25 with fresh seeds; the seeds are fixed, so that a failure is a change of the filter.
 */
const STANDARD_ERRORS = Math.sqrt(10);
const MOST_CHI_SQUARE = 33.7;

interface Share {
  setting: number;
  from: number;
  to: number;
}
type Falls = Record<Quantity, Fall>[];

if (process.send) {
  process.on('message', ({ setting, from, to }: Share) => {
    const chosen = settings[setting]!;
    const all: Falls = [];
    for (let i = from; i < to; i += 1) {
      const seed = 1_000_003 * (setting + 1) + i;
      all.push(falls(chosen, simulate(chosen, seed, WEEKS), seed));
    }
    process.send!(all, () => exit(0));
  });
} else {
  exit((await calibrate(Number(argv[2] ?? HISTORIES), argv[3])) ? 0 : 1);
}

async function calibrate(histories: number, only: string | undefined): Promise<boolean> {
  if (!(histories >= 10)) throw new Error('say how many histories, at least 10');
  const known = settings.map(({ name }) => name);
  if (only !== undefined && !known.includes(only)) throw new Error(`the settings are: ${known.join(', ')}`);
  let good = true;
  const margin = STANDARD_ERRORS * Math.sqrt(0.09 / histories);
  const bounds = { least: 0.9 - margin, most: 0.9 + margin, chiSquare: MOST_CHI_SQUARE };
  const inWords = `${(100 * bounds.least).toFixed(1)} to ${(100 * bounds.most).toFixed(1)} %`;
  stdout.write(`${histories} histories each; held must be ${inWords}, chi2 at most ${bounds.chiSquare}\n`);
  for (const [setting, { name }] of settings.entries()) {
    if (only !== undefined && name !== only) continue;
    const began = Date.now();
    const shares = Array.from({ length: WORKERS }, (_, w) =>
      inWorker({
        setting,
        from: Math.floor((histories * w) / WORKERS),
        to: Math.floor((histories * (w + 1)) / WORKERS),
      }),
    );
    const lines = linesOf((await Promise.all(shares)).flat(), bounds);
    stdout.write(`${name} (${((Date.now() - began) / 1000).toFixed(0)} s)\n`);
    for (const line of lines) {
      const held = `${(100 * line.heldShare).toFixed(1)} %`.padStart(7);
      const tenths = line.tenths.map((n) => String(n).padStart(4)).join('');
      const verdict = line.good ? '' : '  OUT OF BOUNDS';
      stdout.write(
        `  ${line.quantity.padEnd(17)} held ${held}  chi2 ${line.chiSquare.toFixed(1).padStart(5)}  tenths ${tenths}${verdict}\n`,
      );
      good &&= line.good;
    }
  }
  return good;
}

function inWorker(share: Share): Promise<Falls> {
  return new Promise((resolve, reject) => {
    const child = fork(fileURLToPath(import.meta.url));
    child.once('message', (all) => resolve(all as Falls));
    child.once('error', reject);
    child.once('exit', (code) => {
      if (code !== 0) reject(new Error(`a worker ended with ${code}`));
    });
    child.send(share);
  });
}
