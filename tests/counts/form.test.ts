import { describe, expect, test } from 'vitest';
import { countInput } from '../../shared/counts/form.ts';
import { faultsOf, inWords } from '../../shared/faults.ts';

function faults(input: unknown): string[] {
  const parsed = countInput.safeParse(input, { error: inWords });
  return parsed.success ? [] : faultsOf(parsed.error).map(({ path, message }) => `${path}: ${message}`);
}

describe('count input', () => {
  test('what has a default may be left out', () => {
    expect(countInput.parse({ method: 'full', counted: 1 })).toEqual({
      method: 'full',
      counted: 1,
      relativeSd: 0.05,
      level: 0.9,
    });
    expect(countInput.parse({ method: 'sample', counted: 1, fraction: 1 })).toMatchObject({ clumping: 4 });
  });

  test.each([
    [{ method: 'full', counted: -1 }, ['counted: must be at least 0']],
    [{ method: 'full', counted: 1.5 }, ['counted: must be a whole number']],
    [{ method: 'full', counted: '7' }, ['counted: must be a number, not text']],
    [{ method: 'full' }, ['counted: is missing']],
    [{ method: 'full', counted: 10_000_001 }, ['counted: must be at most 10000000']],
    [{ method: 'full', counted: Number.NaN }, ['counted: must be a finite number']],
    [{ method: 'full', counted: Number.POSITIVE_INFINITY }, ['counted: must be a finite number']],
    [{ method: 'full', counted: 1, relativeSd: 0 }, ['relativeSd: must be more than 0']],
    [{ method: 'full', counted: 1, level: 1 }, ['level: must be less than 1']],
    [{ method: 'full', counted: 1, fraction: 0.5 }, ['fraction: is not known here']],
    [{ method: 'sample', counted: 1, fraction: 0 }, ['fraction: must be more than 0']],
    [{ method: 'sample', counted: 1, fraction: 1.1 }, ['fraction: must be at most 1']],
    [{ method: 'visible', counted: 1 }, ['detection: is missing']],
    [
      { method: 'visible', counted: 1, detection: { alpha: 0, beta: null } },
      ['detection.alpha: must be more than 0', 'detection.beta: must be a number, not null'],
    ],
    [
      { method: 'removal', catches: [1], estimator: 'best' },
      [
        'catches: must have at least 2 entries',
        'estimator: must be one of carle-strub, zippin, seber-two-pass',
      ],
    ],
    [
      { method: 'removal', catches: [9, 3, 1], estimator: 'seber-two-pass' },
      ['catches: must be exactly two catches for seber-two-pass'],
    ],
    [{ method: 'removal', catches: [9, -3], estimator: 'zippin' }, ['catches[1]: must be at least 0']],
    [
      { method: 'mark-recapture', marked: 9, caught: 5, recaptured: 6, estimator: 'chapman' },
      ['recaptured: must not be more than were marked, nor more than were caught'],
    ],
    [
      { method: 'mark-recapture', marked: 0, caught: 5, recaptured: 0, estimator: 'chapman' },
      ['marked: must be at least 1'],
    ],
    [{ method: 'guess' }, ['method: must be one of full, visible, sample, removal, mark-recapture']],
    [{}, ['method: must be one of full, visible, sample, removal, mark-recapture']],
    [[], ['input: must be an object, not a list']],
    [null, ['input: must be an object, not null']],
    ['84', ['input: must be an object, not text']],
  ])('%j', (input, expected) => {
    expect(faults(input)).toEqual(expected);
  });
});
