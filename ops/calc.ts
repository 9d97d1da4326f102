import { stdin, stdout } from 'node:process';
import { type Calculation, calculations, inputSchema } from '../shared/calculations.ts';
import { type Fault, WHOLE_INPUT } from '../shared/faults.ts';
import { linesOf, MOST_LINE_BYTES, textOf } from './calc-input.ts';

const OK = 0;
const SOME_LINES_BAD = 1;
const BAD_INPUT = 2;

const USAGE = 'usage: npm run --silent calc -- NAME [--many | --schema] < input.json';

/** Without a name: what there is to ask for, one line each. */
function listing(): string {
  const width = Math.max(...Object.keys(calculations).map((name) => name.length));
  return Object.entries(calculations)
    .map(([name, { answers }]) => `${name.padEnd(width)}  ${answers}\n`)
    .join('');
}

/** Waits until a slow reader has taken what was written, so that a long stream never piles up in memory. */
async function print(text: string): Promise<void> {
  if (!stdout.write(text)) await new Promise<void>((resolve) => stdout.once('drain', resolve));
}

function complain(faults: readonly Fault[]): void {
  for (const { path, message } of faults) console.error(`${path}: ${message}`);
}

type Answer = { result: object } | { faults: Fault[] };

function answer(calculation: Calculation, bytes: Buffer): Answer {
  const text = textOf(bytes);
  if (text === null) return { faults: [{ path: WHOLE_INPUT, message: 'is not UTF-8 text' }] };
  if (text.trim() === '') return { faults: [{ path: WHOLE_INPUT, message: 'is empty' }] };
  let given: unknown;
  try {
    given = JSON.parse(text);
  } catch (error) {
    const why = error instanceof Error ? error.message.replace(/\s+/g, ' ') : String(error);
    return { faults: [{ path: WHOLE_INPUT, message: `is not JSON (${why})` }] };
  }
  const outcome = calculation.run(given);
  return outcome.ok ? { result: outcome.result } : { faults: outcome.faults };
}

async function answerOne(calculation: Calculation): Promise<number> {
  const chunks: Buffer[] = [];
  let size = 0;
  for await (const chunk of stdin) {
    size += chunk.length;
    if (size > MOST_LINE_BYTES) {
      complain([{ path: WHOLE_INPUT, message: `is larger than ${MOST_LINE_BYTES / 2 ** 20} MiB` }]);
      return BAD_INPUT;
    }
    chunks.push(chunk);
  }
  const answered = answer(calculation, Buffer.concat(chunks));
  if ('faults' in answered) {
    complain(answered.faults);
    return BAD_INPUT;
  }
  await print(`${JSON.stringify(answered.result)}\n`);
  return OK;
}

/** One JSON object per line in, one per line out, blank lines left out; a bad line does not stop the others. */
async function answerMany(calculation: Calculation): Promise<number> {
  let exit = OK;
  for await (const line of linesOf(stdin)) {
    if (line !== null && line.length === 0) continue;
    const answered: Answer =
      line === null
        ? { faults: [{ path: WHOLE_INPUT, message: `is longer than ${MOST_LINE_BYTES / 2 ** 20} MiB` }] }
        : answer(calculation, line);
    if ('faults' in answered) {
      exit = SOME_LINES_BAD;
      const error = answered.faults.map(({ path, message }) => `${path}: ${message}`).join('; ');
      await print(`${JSON.stringify({ error })}\n`);
    } else {
      await print(`${JSON.stringify(answered.result)}\n`);
    }
  }
  return exit;
}

async function main(given: readonly string[]): Promise<number> {
  const options = given.filter((word) => word.startsWith('-'));
  const names = given.filter((word) => !word.startsWith('-'));
  const [name] = names;
  const unknown = options.find((option) => option !== '--many' && option !== '--schema');
  if (
    unknown !== undefined ||
    names.length > 1 ||
    new Set(options).size > 1 ||
    (!name && options.length > 0)
  ) {
    console.error(unknown === undefined ? USAGE : `${unknown} is not known here\n${USAGE}`);
    return BAD_INPUT;
  }
  if (name === undefined) {
    await print(listing());
    return OK;
  }
  const calculation = Object.hasOwn(calculations, name) ? calculations[name] : undefined;
  if (calculation === undefined) {
    console.error(
      `There is no calculation called ${JSON.stringify(name)}. There are:\n${listing().trimEnd()}`,
    );
    return BAD_INPUT;
  }
  if (options[0] === '--schema') {
    await print(`${JSON.stringify(inputSchema(calculation), null, 2)}\n`);
    return OK;
  }
  return options[0] === '--many' ? answerMany(calculation) : answerOne(calculation);
}

// Whoever reads may stop early (`| head`); that is no failure of ours.
stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
  process.exit(OK);
});

process.exitCode = await main(process.argv.slice(2));
