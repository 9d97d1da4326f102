import { type ChildProcessWithoutNullStreams, spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { Readable, Writable } from 'node:stream';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { calc } from '../../ops/calc-command.ts';
import { calculations } from '../../shared/calculations.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));

interface Ran {
  code: number | null;
  out: string;
  err: string;
}

/** The command in this process, with streams of its own. */
async function ask(words: string[], input: string | Buffer = ''): Promise<Ran> {
  const written = { out: '', err: '' };
  const sink = (name: 'out' | 'err') =>
    new Writable({
      write(chunk, _encoding, done) {
        written[name] += chunk;
        done();
      },
    });
  const code = await calc(words, {
    input: Readable.from([Buffer.from(input)]),
    output: sink('out'),
    errors: sink('err'),
  });
  return { code, ...written };
}

/** The real thing, as `npm run --silent calc -- ...` starts it. */
function start(words: string[]): { child: ChildProcessWithoutNullStreams; ran: Promise<Ran> } {
  const child = spawn(process.execPath, ['--import', 'tsx', 'ops/calc.ts', ...words], { cwd: root });
  const ran = new Promise<Ran>((resolve, reject) => {
    let out = '';
    let err = '';
    child.stdout.on('data', (chunk) => (out += chunk));
    child.stderr.on('data', (chunk) => (err += chunk));
    child.on('error', reject);
    child.on('close', (code) => resolve({ code, out, err }));
  });
  return { child, ran };
}

const lines = (text: string): string[] => text.split('\n').slice(0, -1);

describe('calc', () => {
  test('without a name it lists the names, one line each', async () => {
    const { code, out, err } = await ask([]);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(lines(out).map((line) => line.split(/\s+/)[0])).toEqual(Object.keys(calculations));
    for (const line of lines(out)) expect(line).toMatch(/^[a-z-]+ {2,}\S.+/);
  });

  test('prints one JSON object, with exactly the promised keys', async () => {
    const { code, out, err } = await ask(['count'], '{"method":"full","counted":84,"relativeSd":0.05}');
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(lines(out)).toHaveLength(1);
    const result = JSON.parse(out) as Record<string, unknown>;
    expect(Object.keys(result)).toEqual(['estimate', 'standardError', 'lower', 'upper', 'level', 'method']);
    expect(result).toMatchObject({ estimate: 84, level: 0.9, method: 'full' });
  });

  test('prints the JSON Schema of an input', async () => {
    const { code, out } = await ask(['starter-group', '--schema']);
    expect(code).toBe(0);
    expect(JSON.parse(out)).toMatchObject({
      type: 'object',
      properties: { femaleShare: { type: 'number', minimum: 0, maximum: 1 } },
      required: ['femaleShare', 'atLeast'],
      additionalProperties: false,
    });
  });

  test('bad input: exit 2, nothing printed, a line for each fault', async () => {
    const { code, out, err } = await ask(
      ['count'],
      '{"method":"visible","counted":-1,"detection":{"alpha":6,"beta":0},"colour\\nX":1}',
    );
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(lines(err)).toEqual([
      'counted: must be at least 0',
      'detection.beta: must be more than 0',
      '["colour\\nX"]: is not known here',
    ]);
  });

  test('a calculation that fails on the data is a fault like any other', async () => {
    const { code, out, err } = await ask(
      ['count'],
      '{"method":"removal","catches":[5,7],"estimator":"zippin"}',
    );
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toBe('catches: do not decline, so the number of animals cannot be estimated\n');
  });

  test.each([
    ['broken JSON', '{"method":', /^input: is not JSON/],
    ['nothing', '', /^input: is empty/],
    ['broken UTF-8', Buffer.from([0x7b, 0x22, 0xff, 0x22, 0x7d]), /^input: is not UTF-8/],
    ['a number too large to be finite', '{"method":"full","counted":1e999}', /^counted: must be a finite/],
    ['a list', '[]', /^input: must be an object, not a list/],
  ])('%s is refused in one line', async (_name, input, message) => {
    const { code, out, err } = await ask(['count'], input);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toMatch(message);
    expect(lines(err)).toHaveLength(1);
  });

  test('an unknown name: exit 2, and the names there are', async () => {
    const { code, out, err } = await ask(['guess'], '{}');
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toContain('"guess"');
    for (const name of Object.keys(calculations)) expect(err).toContain(name);
  });

  test.each([
    [['count', '--all']],
    [['--many']],
    [['count', 'substrate']],
    [['count', '--many', '--schema']],
  ])('%j is refused with the usage', async (words) => {
    const { code, out, err } = await ask(words, '{}');
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toContain('usage: npm run --silent calc -- NAME');
  });

  test('many: a line for a line, the bad ones named, exit 1', async () => {
    const start = '"femaleShare":0.5,"atLeast":{"males":2,"females":2}';
    const { code, out, err } = await ask(
      ['starter-group', '--many'],
      `\uFEFF{"animals":12,${start}}\nnot JSON\r\n{"animals":12.5,${start},"x":1}\n\n{"assurance":0.99,${start}}`,
    );
    expect({ code, err }).toEqual({ code: 1, err: '' });
    const results = lines(out).map((line) => JSON.parse(line) as Record<string, unknown>);
    expect(results).toEqual([
      { probability: expect.closeTo(0.99365, 5) },
      { error: expect.stringMatching(/^input: is not JSON/) },
      { error: 'animals: must be a whole number; x: is not known here' },
      { animals: 12, probability: expect.closeTo(0.99365, 5) },
    ]);
  });

  test('many: all good, exit 0, each answered before the next is needed', async () => {
    const { child, ran } = start(['count', '--many']);
    const answers: string[] = [];
    for (let counted = 1; counted <= 3; counted += 1) {
      const answered = new Promise<string>((resolve) =>
        child.stdout.once('data', (chunk) => resolve(`${chunk}`)),
      );
      child.stdin.write(`{"method":"full","counted":${counted}}\n`);
      answers.push(await answered);
    }
    child.stdin.end();
    expect(await ran).toMatchObject({ code: 0, err: '' });
    expect(answers.map((text) => (JSON.parse(text) as { estimate: number }).estimate)).toEqual([1, 2, 3]);
  });

  test('the process itself: bad input exits with 2 and prints nothing', async () => {
    const { child, ran } = start(['count']);
    child.stdin.end('{"method":"full","counted":-1}');
    expect(await ran).toEqual({ code: 2, out: '', err: 'counted: must be at least 0\n' });
  });

  test('a reader that stops early is no failure', async () => {
    const { child, ran } = start(['count', '--many']);
    child.stdin.on('error', () => undefined);
    child.stdout.destroy();
    child.stdin.end('{"method":"full","counted":1}\n'.repeat(2_000));
    expect(await ran).toMatchObject({ code: 0, err: '' });
  });

  test('package.json starts it under its name', () => {
    const { scripts } = JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8')) as {
      scripts: Record<string, string>;
    };
    expect(scripts.calc).toBe('node --import tsx ops/calc.ts');
  });
});
