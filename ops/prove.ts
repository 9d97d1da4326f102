// `npm run prove -- damage`: the wide form of a proof of which the suite runs a small one, or one that needs what a
// build machine has not (root, a disk of its own). Last figures: DEVELOPERS.md, "Proofs by command".
import { runTests } from './run-tests.ts';

type Proof = {
  what: string;
  file: string;
  env: Record<string, string>;
  /** What it is started by. */
  within?: string[];
};

const proofs: Record<string, Proof> = {
  guesses: {
    what: '10,000 guesses at passwords, 1,500 timed sign-ins, 1,000 guesses at codes',
    file: 'tests/people/guesses.proof.ts',
    env: {},
  },
  'too-much': {
    what: 'requests, files and papers that are too much: how soon they are refused, and at what cost (Linux)',
    file: 'tests/http/too-much.proof.ts',
    env: {},
  },
  baskets: {
    what: 'a million baskets, and their taxes, against whole numbers of any size',
    file: 'tests/orders/money.test.ts tests/invoices/tax.test.ts',
    env: { BASKETS: '1000000' },
  },
  scripts: {
    what: 'texts that would run, in every stored field, on every page in a browser (Chromium)',
    file: 'tests/browser/stored.proof.ts',
    env: {},
  },
  links: {
    what: "a million random addresses of customers' pages, and each bent in every way",
    file: 'tests/arrivals/links.test.ts',
    env: { LINK_TOKENS: '1000000' },
  },
  'sign-ins': {
    what: '64 sign-ins at once: how others fare meanwhile, and the memory (Linux)',
    file: 'tests/people/sign-ins.proof.ts',
    env: {},
  },
  alone: {
    what: 'the service is used where there is no network but the machine itself (Linux, strace, Chromium)',
    file: 'tests/running/alone.proof.ts',
    env: {},
    within: ['unshare', '--map-root-user', '--net', '--'],
  },
  proxies: {
    what: 'every page behind nothing, nginx and Caddy, at the root and under a path, plain and over TLS',
    file: 'tests/running/proxies.proof.ts',
    env: {},
  },
  'small-disk': {
    what: 'a disk of 64 MB is filled during everything (root, Linux)',
    file: 'tests/faults/small-disk.proof.ts',
    env: {},
  },
  refusals: {
    what: 'what a service must not start on, and how soon it says so (root, Linux, a C compiler)',
    file: 'tests/faults/refusals.proof.ts',
    env: {},
  },
  backups: {
    what: '100 backups under 32 writers, each restored, and what others notice',
    file: 'tests/backups/busy.proof.ts',
    env: {},
  },
  restores: {
    what: 'a restore of 100 MB against the clock, and every way to spoil a backup',
    file: 'tests/backups/drill.proof.ts',
    env: {},
  },
  stops: {
    what: 'told to stop a hundred times under 32 clients, and as process 1 (root, Linux)',
    file: 'tests/faults/stops.proof.ts',
    env: {},
  },
  jumps: {
    what: 'a clock that jumps by an hour and by 400 days while people work (Linux, libfaketime)',
    file: 'tests/faults/jumps.proof.ts',
    env: {},
  },
  nights: {
    what: 'a night of the real service under a clock that is set back over it (Linux, libfaketime)',
    file: 'tests/faults/nights.proof.ts',
    env: {},
  },
  modes: {
    what: 'what the service and its commands make under umask 000 (not Windows)',
    file: 'tests/running/modes.proof.ts',
    env: {},
  },
  damage: {
    what: '500 damaged databases, before the start and under a service that runs',
    file: 'tests/faults/damage.test.ts',
    env: { DAMAGE_CASES: '500' },
  },
  upgrades: {
    what: 'from every schema with 50,000 rows: killed, out of room, restored from a backup of then',
    file: 'tests/faults/upgrades.proof.ts',
    env: {},
  },
};

const [name = ''] = process.argv.slice(2);
const proof = proofs[name];
if (proof) runTests([proof.file], { ...proof.env, PROVE: name }, proof.within);
else {
  const list = Object.entries(proofs).map(([one, { what }]) => `  ${one.padEnd(12)} ${what}`);
  console.error(['What is to be proven?', ...list].join('\n'));
  process.exitCode = 2;
}
