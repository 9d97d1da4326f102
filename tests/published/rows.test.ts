import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { background, claimed } from './claimed.ts';
import { rows, toleranceOf } from './rows.ts';
import { tolerances } from './tolerances.ts';

describe('published rows', () => {
  test('none is dropped and none is claimed twice', () => {
    const accounted = [...Object.values(claimed).flat(), ...Object.keys(background)];
    expect([...accounted].sort()).toEqual(rows.map(({ id }) => id).sort());
    expect(rows.length).toBe(76);
  });

  test('each file names every row it claims', () => {
    for (const [file, ids] of Object.entries(claimed)) {
      const path = new URL(`./${file}`, import.meta.url);
      expect(existsSync(path), file).toBe(true);
      const text = readFileSync(path, 'utf8');
      expect(
        ids.filter((id) => !text.includes(`'${id}'`)),
        file,
      ).toEqual([]);
    }
  });

  test('each row has a source, and each row left as background a reason', () => {
    for (const { id, source, source_kind } of rows) {
      expect(source.length, id).toBeGreaterThan(5);
      expect(['published', 'computed-here-with-reference-tool', 'from-memory'], id).toContain(source_kind);
    }
    for (const [id, reason] of Object.entries(background)) expect(reason.length, id).toBeGreaterThan(20);
  });

  test('no tolerance is wider than its row allows, and each has a reason', () => {
    for (const [id, { within, because, wider }] of Object.entries(tolerances)) {
      const row = rows.find((candidate) => candidate.id === id);
      expect(row, id).toBeDefined();
      expect(because.length, id).toBeGreaterThan(10);
      expect(wider?.length ?? 99, id).toBeGreaterThan(20);
      const figures = typeof within === 'object' ? Object.entries(within) : [[undefined, within] as const];
      for (const [figure, ours] of figures) {
        const theirs = toleranceOf(row?.tolerance, figure);
        expect(theirs, `${id} ${figure ?? ''}`).toBeDefined();
        if (wider === undefined) expect(ours, `${id} ${figure ?? ''}`).toBeLessThanOrEqual(theirs as number);
      }
    }
  });
});
