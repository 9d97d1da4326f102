import { describe, expect, test } from 'vitest';
import { linesOf } from '../../ops/calc-input.ts';
import { calculations, inputSchema } from '../../shared/calculations.ts';
import { writePath } from '../../shared/faults.ts';

describe('the list of calculations', () => {
  test('every one has a name of its own, a question, and a JSON Schema that refuses unknown keys', () => {
    for (const [name, calculation] of Object.entries(calculations)) {
      expect(name).toMatch(/^[a-z]+(-[a-z]+)*$/);
      expect(calculation.answers.length, name).toBeGreaterThan(10);
      const schema = inputSchema(calculation) as { $schema?: string; oneOf?: object[] };
      expect(schema.$schema, name).toBe('https://json-schema.org/draft/2020-12/schema');
      for (const part of schema.oneOf ?? [schema]) {
        expect(part, name).toMatchObject({ type: 'object', additionalProperties: false });
      }
    }
  });

  test('what may be left out is not required in the schema', () => {
    const schema = inputSchema(calculations.count as never) as { oneOf: { required: string[] }[] };
    expect(schema.oneOf[0]?.required).toEqual(['method', 'counted']);
  });

  test('whatever is given, each answers with a result or with faults that have a path and words', async () => {
    const odd = [
      undefined,
      null,
      0,
      'text',
      [],
      {},
      { method: 'full' },
      { __proto__: null, a: 1 },
      new Date(0),
    ];
    for (const [name, calculation] of Object.entries(calculations)) {
      for (const input of odd) {
        const outcome = await calculation.run(input);
        expect(outcome.ok, name).toBe(false);
        for (const fault of outcome.ok ? [] : outcome.faults) {
          expect(fault.path.length).toBeGreaterThan(0);
          expect(fault.message).toMatch(/^[a-z].*[^.\n]$/);
        }
      }
    }
  });

  test('a result that cannot be written as JSON numbers is a fault', () => {
    const input = { method: 'sample', counted: 10_000_000, fraction: 1e-305, clumping: 1 };
    expect(calculations.count?.run(input)).toMatchObject({ ok: false });
  });

  test('paths as people read them', () => {
    expect(writePath([])).toBe('input');
    expect(writePath(['layers', 0, 'parts', 1, 'settling'])).toBe('layers[0].parts[1].settling');
    expect(writePath(['a', 'b c'])).toBe('a["b c"]');
  });
});

describe('lines of a stream', () => {
  const lines = async (chunks: string[], most?: number) => {
    async function* stream() {
      for (const chunk of chunks) yield Buffer.from(chunk);
    }
    const found: (string | null)[] = [];
    for await (const line of linesOf(stream(), most)) found.push(line === null ? null : line.toString());
    return found;
  };

  test('however the chunks fall, with and without a last line end', async () => {
    expect(await lines(['a\nb', 'b\r', '\n', 'c'])).toEqual(['a', 'bb', 'c']);
    expect(await lines(['a\n\nb\n'])).toEqual(['a', '', 'b']);
    expect(await lines([])).toEqual([]);
  });

  test('a line that is too long is passed over, the next one is read', async () => {
    expect(await lines(['aaaa', 'aaaa', 'aaaa\nb\n'], 10)).toEqual([null, 'b']);
    expect(await lines(['ok\n', 'aaaaaaaaaaaa'], 10)).toEqual(['ok', null]);
  });
});
