import { readFileSync } from 'node:fs';
import { expect } from 'vitest';
import { tolerances } from './tolerances.ts';

/** One published check: what goes in, what must come out, and who says so. */
export interface Row {
  topic: string;
  id: string;
  inputs: Record<string, unknown>;
  expected: unknown;
  tolerance: number | Record<string, number>;
  source: string;
  /** published: printed there; computed-here-with-reference-tool: by that tool or definition; from-memory. */
  source_kind: 'published' | 'computed-here-with-reference-tool' | 'from-memory';
}

export const rows = JSON.parse(readFileSync(new URL('./checks.json', import.meta.url), 'utf8')) as Row[];

export function row(id: string): Row {
  const found = rows.find((candidate) => candidate.id === id);
  if (found === undefined) throw new Error(`checks.json has no row ${id}`);
  return found;
}

/** The title of a test: the row and its source, and whether the figure is only remembered. */
export function titleOf(id: string): string {
  const { source, source_kind } = row(id);
  const remembered = source_kind === 'from-memory' && !/from memory/i.test(source) ? ' (from memory)' : '';
  return `${id}: ${source}${remembered}`;
}

/** A figure that the row expects, by its name there (or the only one, or one of a list by its place). */
export function expectedOf(id: string, figure?: string | number): number {
  const { expected } = row(id);
  const value =
    figure === undefined ? expected : (expected as Record<string | number, unknown> | null)?.[figure];
  if (typeof value !== 'number') throw new Error(`row ${id} expects no number ${figure ?? ''}`);
  return value;
}

/** Compares with the row's figure, within the tolerance that tolerances.ts gives and explains. */
export function expectRow(id: string, actual: number | null | undefined, figure?: string | number): void {
  const within = toleranceOf(tolerances[id]?.within, figure);
  if (within === undefined) throw new Error(`tolerances.ts has none for ${id} ${figure ?? ''}`);
  const wanted = expectedOf(id, figure);
  expect(typeof actual, `${id} ${figure ?? ''} is a number`).toBe('number');
  expect(
    Math.abs((actual as number) - wanted),
    `${id} ${figure ?? ''}: ${actual} against ${wanted}`,
  ).toBeLessThanOrEqual(within);
}

/** The same for a whole list of figures, by the list's name where the row has several. */
export function expectRowList(id: string, actual: readonly number[], list?: string): void {
  const { expected } = row(id);
  const wanted = list === undefined ? expected : (expected as Record<string, unknown>)[list];
  const within = toleranceOf(tolerances[id]?.within);
  if (!Array.isArray(wanted) || within === undefined) throw new Error(`row ${id} expects no such list`);
  expect(actual).toHaveLength(wanted.length);
  for (const [i, value] of actual.entries())
    expect(Math.abs(value - wanted[i]), `${id} [${i}]: ${value} against ${wanted[i]}`).toBeLessThanOrEqual(
      within,
    );
}

/** The tolerance of one figure: by name, or the one for all. */
export function toleranceOf(
  tolerance: number | Record<string, number> | undefined,
  figure?: string | number,
): number | undefined {
  return typeof tolerance === 'object' ? tolerance[figure ?? ''] : tolerance;
}
