import { describe, expect, test } from 'vitest';
import { calculations } from '../../shared/calculations.ts';

function faults(name: 'lineage' | 'mixing' | 'trace', input: object): string[] {
  const outcome = calculations[name].run(input);
  if (outcome.ok) throw new Error('was not refused');
  return outcome.faults.map(({ path, message }) => `${path}: ${message}`);
}

const A = { code: 'A', foundedOn: '2026-01-01', wild: 12 };
const B = { code: 'B', foundedOn: '2026-02-01', parents: [{ code: 'A', animals: 6 }] };
const rest = { generationDays: 90, femaleShare: 0.5, neRatio: 0.5, asOf: '2026-06-01' };
const withCultures = (...cultures: object[]) => ({ ...rest, cultures });

describe('a lineage that cannot be', () => {
  test.each([
    ['no cultures', withCultures(), 'cultures: must have at least 1 entry'],
    ['a code twice', withCultures(A, B, A), 'cultures[2].code: is used twice'],
    [
      'an unknown parent',
      withCultures(A, { ...B, parents: [{ code: 'X', animals: 1 }] }),
      'cultures[1].parents[0].code: is no culture here',
    ],
    [
      'a child founded before its parent',
      withCultures(A, { ...B, foundedOn: '2025-12-31' }),
      'cultures[1].parents[0].code: was founded on 2026-01-01, after its child',
    ],
    [
      'wild and split',
      withCultures(A, { ...B, wild: 3 }),
      'cultures[1].wild: is given beside parents; a culture has one origin',
    ],
    [
      'neither wild nor split',
      withCultures(A, { ...B, parents: [] }),
      'cultures[1].parents: must name a culture, or wild be given in its place',
    ],
    [
      'more than twenty parents',
      withCultures(A, {
        ...B,
        parents: Array.from({ length: 21 }, (_, i) => ({ code: `P${i}`, animals: 1 })),
      }),
      'cultures[1].parents: must have at most 20 entries',
    ],
    [
      'a founding in the future',
      withCultures({ ...A, foundedOn: '2026-06-02' }),
      'cultures[0].foundedOn: is after asOf, 2026-06-01',
    ],
    [
      'a size before the founding',
      withCultures({ ...A, sizes: [{ date: '2025-12-31', animals: 3 }] }),
      'cultures[0].sizes[0].date: is before the founding, 2026-01-01',
    ],
    [
      'a size in the future',
      withCultures({ ...A, sizes: [{ date: '2026-06-02', animals: 3 }] }),
      'cultures[0].sizes[0].date: is after asOf, 2026-06-01',
    ],
    [
      'an addition before the founding',
      withCultures(A, { ...B, additions: [{ date: '2026-01-31', code: 'A', animals: 3 }] }),
      'cultures[1].additions[0].date: is before the founding, 2026-02-01',
    ],
    [
      'an addition in the future',
      withCultures(A, { ...B, additions: [{ date: '2026-06-02', code: 'A', animals: 3 }] }),
      'cultures[1].additions[0].date: is after asOf, 2026-06-01',
    ],
    [
      'an addition from a culture not founded yet',
      withCultures({ ...A, additions: [{ date: '2026-01-31', code: 'B', animals: 3 }] }, B),
      'cultures[0].additions[0].code: was founded on 2026-02-01, after the addition',
    ],
    [
      'an addition from itself',
      withCultures({ ...A, additions: [{ date: '2026-01-31', code: 'A', animals: 3 }] }),
      'cultures[0].additions[0].code: is the culture itself',
    ],
    [
      'an addition from nowhere',
      withCultures({ ...A, additions: [{ date: '2026-01-31', code: 'X', animals: 3 }] }),
      'cultures[0].additions[0].code: is no culture here',
    ],
    ['no founding animals', withCultures({ ...A, wild: 0 }), 'cultures[0].wild: must be at least 1'],
    ['half an animal', withCultures({ ...A, wild: 1.5 }), 'cultures[0].wild: must be a whole number'],
    [
      'an endless size',
      withCultures({ ...A, sizes: [{ date: '2026-03-01', animals: Number.POSITIVE_INFINITY }] }),
      'cultures[0].sizes[0].animals: must be a finite number',
    ],
    [
      'no day',
      withCultures({ ...A, foundedOn: '2026-02-30' }),
      'cultures[0].foundedOn: is not a day of the calendar',
    ],
    ['a word unknown here', withCultures({ ...A, colour: 'grey' }), 'cultures[0].colour: is not known here'],
    ['a share above 1', { ...withCultures(A), femaleShare: 1.1 }, 'femaleShare: must be at most 1'],
    ['no ratio', { ...withCultures(A), neRatio: 0 }, 'neRatio: must be more than 0'],
    ['no generations', { ...withCultures(A), generationDays: 0 }, 'generationDays: must be at least 1'],
  ])('%s', (_what, input, fault) => {
    expect(faults('lineage', input)).toEqual([fault]);
  });

  test('a ring of descent, with everything that comes of it', () => {
    const day = { foundedOn: '2026-01-01' };
    const from = (code: string) => ({ parents: [{ code, animals: 5 }] });
    const ring = (i: number) =>
      `cultures[${i}].parents: lead back in a ring, so that a culture descends from itself`;
    const cultures = [
      A,
      { code: 'P', ...day, ...from('Q') },
      { code: 'Q', ...day, ...from('R') },
      { code: 'R', ...day, ...from('P') },
      { code: 'S', ...day, ...from('P') },
      { code: 'T', ...day, ...from('T') },
    ];
    expect(faults('lineage', withCultures(...cultures))).toEqual([1, 2, 3, 4, 5].map(ring));
  });

  test('a ring over several days names the child that is too old as well', () => {
    const older = { ...A, wild: undefined, parents: [{ code: 'B', animals: 2 }] };
    expect(faults('lineage', withCultures(older, B))).toEqual([
      'cultures[0].parents[0].code: was founded on 2026-02-01, after its child',
      'cultures[0].parents: lead back in a ring, so that a culture descends from itself',
      'cultures[1].parents: lead back in a ring, so that a culture descends from itself',
    ]);
  });

  test('every fault at once, in the order of the cultures', () => {
    const cultures = [
      { ...A, sizes: [{ date: '2025-01-01', animals: 3 }] },
      { ...B, foundedOn: '2027-01-01' },
    ];
    expect(faults('lineage', withCultures(...cultures))).toEqual([
      'cultures[0].sizes[0].date: is before the founding, 2026-01-01',
      'cultures[1].foundedOn: is after asOf, 2026-06-01',
    ]);
  });

  test('what may be left out: lists that are empty', () => {
    expect(calculations.lineage?.run(withCultures(A, B))).toMatchObject({ ok: true });
    const empty = { sizes: [], additions: [] };
    expect(
      calculations.lineage?.run(withCultures({ ...A, parents: [], ...empty }, { ...B, ...empty })),
    ).toEqual(calculations.lineage?.run(withCultures(A, B)));
  });
});

describe('a question about mixing that cannot be', () => {
  const question = { ...withCultures(A, B), for: 'A' };

  test.each([
    ['no such culture', { ...question, for: 'X' }, ['for: is no culture here']],
    [
      'pairs of strangers',
      {
        ...question,
        neverMix: [
          ['A', 'X'],
          ['Y', 'B'],
        ],
      },
      ['neverMix[0][1]: is no culture here', 'neverMix[1][0]: is no culture here'],
    ],
    ['a pair of one', { ...question, neverMix: [['A', 'A']] }, ['neverMix[0][1]: is the same culture twice']],
    ['half a pair', { ...question, neverMix: [['A']] }, ['neverMix[0]: must have at least 2 entries']],
    ['a gain of everything', { ...question, gain: 1 }, ['gain: must be less than 1']],
    [
      'a lineage that cannot be',
      { ...question, cultures: [A, { ...B, foundedOn: '2025-12-31' }] },
      ['cultures[1].parents[0].code: was founded on 2026-01-01, after its child'],
    ],
  ])('%s', (_what, input, wanted) => {
    expect(faults('mixing', input)).toEqual(wanted);
  });

  test('a culture that has died out cannot be strengthened', () => {
    const dead = { ...A, sizes: [{ date: '2026-05-01', animals: 0 }] };
    expect(faults('mixing', { ...question, cultures: [dead, B] })).toEqual([
      'for: has no animals left to be strengthened',
    ]);
  });
});

describe('a question about contacts that cannot be', () => {
  const flagged = { code: 'A', since: '2026-03-01' };

  test.each([
    [
      'an unknown kind',
      { flagged, contacts: [{ date: '2026-03-01', from: 'A', to: 'B', kind: 'glance' }] },
      ['contacts[0].kind: must be one of split, seeding, feeders, addition, shared tool, order'],
    ],
    [
      'no day',
      { flagged, contacts: [{ date: '1 March', from: 'A', to: 'B', kind: 'split' }] },
      ['contacts[0].date: must be a day written YYYY-MM-DD'],
    ],
    ['nobody flagged', { contacts: [] }, ['flagged: is missing']],
    ['no code', { flagged: { ...flagged, code: '' } }, ['flagged.code: must have at least 1 character']],
  ])('%s', (_what, input, wanted) => {
    expect(faults('trace', input)).toEqual(wanted);
  });
});
