// `npm run load -- peak 10`: the service under the load of a whole business, measured. The service runs in a process of its
// own on 127.0.0.1 and nowhere else; databases are made once a day and kept in LOAD_DIR. Figures, never a test.
import { runGrowth } from './load/growth.ts';
import { runLocked } from './load/locked.ts';
import { runPeak } from './load/peak.ts';
import { runSlowClients } from './load/slow-clients.ts';
import { runSteady } from './load/steady.ts';

const number = (text: string | undefined, otherwise: number, most: number): number => {
  const value = text === undefined ? otherwise : Number(text);
  if (!(value > 0) || value > most) throw new Error(`"${text}" must be a number above 0, at most ${most}.`);
  return value;
};

const small = 20_000;
const large = 2_000_000;

const runs: Record<string, { what: string; run: (args: string[]) => Promise<boolean> }> = {
  peak: {
    what: 'peak [minutes] [entries]: 20 helpers and 2 owners at work, an act every three seconds each',
    run: ([minutes, entries]) =>
      runPeak({
        minutes: number(minutes, 2, 60),
        entries: number(entries, large, 5_000_000),
        helpers: 20,
        owners: 2,
        thinkMs: 3_000,
      }),
  },
  growth: {
    what: 'growth [turns] [entries] [entries]: each page in turn with a short and a long diary',
    run: ([turns, few, many]) =>
      runGrowth(number(few, small, 5_000_000), number(many, large, 5_000_000), number(turns, 15, 1_000)),
  },
  locked: {
    what: 'locked [seconds] [entries]: 32 read, 32 write, a backup and papers; then the database is held from outside',
    run: ([seconds, entries]) => runLocked(number(seconds, 60, 600), number(entries, small, 5_000_000)),
  },
  'slow-clients': {
    what: 'slow-clients [lines]: thousands of lines on which hardly anything is said, and what others notice',
    run: ([lines]) => runSlowClients(number(lines, 2_000, 10_000), small),
  },
  steady: {
    what: 'steady [minutes] [entries] [think ms]: mixed work at half of what the machine can do: does anything grow?',
    run: ([minutes, entries, thinkMs]) =>
      runSteady(number(minutes, 30, 600), number(entries, small, 5_000_000), number(thinkMs, 2_000, 60_000)),
  },
};

const [name = '', ...args] = process.argv.slice(2);
const chosen = runs[name];
if (chosen) process.exitCode = (await chosen.run(args)) ? 0 : 1;
else {
  console.error(
    `What is to be measured?\n${Object.values(runs)
      .map(({ what }) => `  ${what}`)
      .join('\n')}`,
  );
  process.exitCode = 2;
}
