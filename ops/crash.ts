// `npm run crash -- 200`: starts the service and kills it in the middle of a storm of writes, two hundred times over,
// and compares what it said it had written with what is there; a line is printed after every 25.
// `npm run crash -- power-cut`: holds the order of what it writes against what it answers (Linux, strace).
import { runTests } from './run-tests.ts';

const [asked = '50'] = process.argv.slice(2);
const kills = Number(asked);
const isPowerCut = asked === 'power-cut';
if (!isPowerCut && (!Number.isInteger(kills) || kills < 1 || kills > 5_000)) {
  console.error('How many kills? For example: npm run crash -- 200; or: npm run crash -- power-cut');
  process.exit(2);
}
const seed = process.env.CRASH_SEED ?? String(Math.floor(Math.random() * 2 ** 31));
if (!isPowerCut) console.log(`${kills} kills, seed ${seed} (CRASH_SEED asks the same again)`);
const file = isPowerCut ? 'tests/faults/order-of-syncs.proof.ts' : 'tests/faults/kill.test.ts';
runTests([file], isPowerCut ? { PROVE: 'power-cut' } : { CRASH_SEED: seed, CRASH_KILLS: String(kills) });
