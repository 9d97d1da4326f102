import { once } from 'node:events';
import type { Readable, Writable } from 'node:stream';
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

/** Where a command reads and writes; the process's own streams, or a test's. */
export interface Streams {
  input: Readable;
  output: Writable;
  errors: Writable;
}

/** Waits until a slow reader has taken what was written, so that a long stream never piles up in memory. */
async function print(output: Writable, text: string): Promise<void> {
  if (!output.write(text)) await once(output, 'drain');
}

function complain(errors: Writable, faults: readonly Fault[]): void {
  for (const { path, message } of faults) errors.write(`${path}: ${message}\n`);
}

type Answer = { result: object } | { faults: Fault[] };

async function answer(calculation: Calculation, bytes: Buffer): Promise<Answer> {
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
  const outcome = await calculation.run(given);
  return outcome.ok ? { result: outcome.result } : { faults: outcome.faults };
}

async function answerOne(calculation: Calculation, { input, output, errors }: Streams): Promise<number> {
  const chunks: Buffer[] = [];
  let size = 0;
  for await (const chunk of input) {
    size += chunk.length;
    if (size > MOST_LINE_BYTES) {
      complain(errors, [{ path: WHOLE_INPUT, message: `is larger than ${MOST_LINE_BYTES / 2 ** 20} MiB` }]);
      return BAD_INPUT;
    }
    chunks.push(chunk);
  }
  const answered = await answer(calculation, Buffer.concat(chunks));
  if ('faults' in answered) {
    complain(errors, answered.faults);
    return BAD_INPUT;
  }
  await print(output, `${JSON.stringify(answered.result)}\n`);
  return OK;
}

/** One JSON object per line in, one per line out, blank lines left out; a bad line does not stop the others. */
async function answerMany(calculation: Calculation, { input, output }: Streams): Promise<number> {
  let exit = OK;
  for await (const line of linesOf(input)) {
    if (line !== null && line.length === 0) continue;
    const answered: Answer =
      line === null
        ? { faults: [{ path: WHOLE_INPUT, message: `is longer than ${MOST_LINE_BYTES / 2 ** 20} MiB` }] }
        : await answer(calculation, line);
    if ('faults' in answered) {
      exit = SOME_LINES_BAD;
      const error = answered.faults.map(({ path, message }) => `${path}: ${message}`).join('; ');
      await print(output, `${JSON.stringify({ error })}\n`);
    } else {
      await print(output, `${JSON.stringify(answered.result)}\n`);
    }
  }
  return exit;
}

function isKnown(name: string): name is keyof typeof calculations {
  return Object.hasOwn(calculations, name);
}

/** The words after `calc`: a name and an option, or what is wrong with them. */
function readWords(words: readonly string[]): { name?: string; option?: string } | { wrong: string } {
  const options = words.filter((word) => word.startsWith('-'));
  const names = words.filter((word) => !word.startsWith('-'));
  const unknown = options.find((option) => option !== '--many' && option !== '--schema');
  if (unknown !== undefined) return { wrong: `${unknown} is not known here\n${USAGE}\n` };
  if (names.length > 1 || options.length > 1 || names.length < options.length) return { wrong: `${USAGE}\n` };
  return { name: names[0], option: options[0] };
}

/**
 * Answers one calculation from JSON, or a line of JSON each, as its words ask.
 *
 * @returns the exit code: 0 answered, 1 some lines of many were bad, 2 bad input or bad words
 */
export async function calc(words: readonly string[], streams: Streams): Promise<number> {
  const read = readWords(words);
  if ('wrong' in read) {
    streams.errors.write(read.wrong);
    return BAD_INPUT;
  }
  const { name, option } = read;
  if (name === undefined) {
    await print(streams.output, listing());
    return OK;
  }
  if (!isKnown(name)) {
    streams.errors.write(`There is no calculation called ${JSON.stringify(name)}. There are:\n${listing()}`);
    return BAD_INPUT;
  }
  const calculation = calculations[name];
  if (option === '--schema') {
    await print(streams.output, `${JSON.stringify(inputSchema(calculation), null, 2)}\n`);
    return OK;
  }
  return option === '--many' ? answerMany(calculation, streams) : answerOne(calculation, streams);
}
