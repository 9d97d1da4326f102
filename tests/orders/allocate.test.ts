import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { calculations } from '../../shared/calculations.ts';
import { type AllocateAnswer, allocate } from '../../shared/orders/allocate.ts';
import {
  type AllocateInput,
  type AllocateQuestion,
  allocateInput,
} from '../../shared/orders/allocate-form.ts';
import { mostTogether, neverMixedBy } from '../../shared/orders/never-mixed.ts';
import { randomFrom } from '../support/random.ts';
import { bestMerit, type Given, isPossible, meritOf } from './every-allocation.ts';

const ask = (input: AllocateInput) => allocate(allocateInput.parse(input));

function givenBy({ wanted, cultures }: AllocateQuestion, { allocations }: AllocateAnswer): Given {
  return wanted.map(({ id }) =>
    cultures.map(({ code }) => {
      const rows = allocations.filter((row) => row.id === id && row.code === code);
      return rows.reduce((sum, { groups }) => sum + groups, 0);
    }),
  );
}

const wish = (more: object = {}) => ({ id: 'o1', species: 's', groups: 1, groupSize: 10, ...more });
const culture = (code: string, spare: number, line: string | null = null) => {
  return { code, species: 's', spare, line };
};
const given = async (input: AllocateInput) =>
  (await ask(input)).allocations.map(({ id, code, groups }) => `${id} ${groups} from ${code}`);

describe('allocate', () => {
  test('the worked example', async () => {
    const cultures = [culture('A', 20), culture('B', 45), culture('C', 60)];
    expect(await ask({ wanted: [wish({ groups: 3 })], cultures })).toEqual({
      allocations: [{ id: 'o1', code: 'C', groups: 3, animals: 30 }],
      unmet: [],
      optimal: true,
      gap: { groups: 0, cultures: 0, shareLeft: 0 },
    });
  });

  test('not greedy: both orders are filled where filling the first from the largest would fill one', async () => {
    const wanted = [wish({ groups: 2, groupSize: 6 }), wish({ id: 'o2', groupSize: 12 })];
    const cultures = [culture('A', 13), culture('B', 12)];
    expect((await ask({ wanted, cultures })).unmet).toEqual([]);
  });

  test('a group of a higher priority outweighs any number of a lower one', async () => {
    const wanted = [
      wish({ id: 'small', groups: 3, groupSize: 4 }),
      wish({ id: 'urgent', groupSize: 12, priority: 2 }),
    ];
    expect(await given({ wanted, cultures: [culture('A', 13)] })).toEqual(['urgent 1 from A']);
    expect(await given({ wanted: [wanted[0]!], cultures: [culture('A', 13)] })).toEqual(['small 3 from A']);
  });

  test('the fewest cultures, then the most even rest', async () => {
    const cultures = [culture('A', 20), culture('B', 30), culture('C', 31)];
    expect(await given({ wanted: [wish({ groups: 2 })], cultures })).toEqual(['o1 2 from C']);
    // Two are needed: 2 and 2 leave a third at least, 3 and 1 leave nothing.
    expect(await given({ wanted: [wish({ groups: 4 })], cultures })).toEqual(['o1 2 from B', 'o1 2 from C']);
  });

  test('a line alone, and separate lines', async () => {
    const cultures = [culture('A', 50, 'red'), culture('B', 50, 'red'), culture('C', 10), culture('D', 10)];
    expect(await given({ wanted: [wish({ groups: 3, separateLines: true })], cultures })).toEqual([
      expect.stringMatching(/^o1 1 from [AB]$/),
      'o1 1 from C',
      'o1 1 from D',
    ]);
    const red = await given({ wanted: [wish({ groups: 6, line: 'red' })], cultures });
    expect(red).toEqual(['o1 3 from A', 'o1 3 from B']);
  });

  test('wishes alike are served in the order of the list', async () => {
    const wanted = [wish({ id: 'z', groups: 2 }), wish({ id: 'a', groups: 2 })];
    const { allocations, unmet } = await ask({ wanted, cultures: [culture('A', 35)] });
    expect(allocations.map(({ id, groups }) => [id, groups])).toEqual([
      ['z', 2],
      ['a', 1],
    ]);
    expect(unmet.map(({ id, groups }) => [id, groups])).toEqual([['a', 1]]);
  });

  test.each([
    ['nobody has it', [wish({ species: 'x' })], 1, 'no culture of this species is offered'],
    ['no such line', [wish({ line: 'blue' })], 1, 'no culture of this line is offered'],
    ['groups too large', [wish({ groupSize: 40 })], 1, 'no culture can spare a whole group of 40'],
    [
      'groups too large for the line',
      [wish({ groupSize: 40, line: 'red' })],
      1,
      'no culture of this line can spare a whole group of 40',
    ],
    ['too few', [wish({ groups: 9 })], 5, 'only 4 groups of 10 can be spared'],
    [
      'too few lines',
      [wish({ groups: 3, separateLines: true })],
      1,
      'only 2 lines have a group to spare, and each group is to come from a line of its own',
    ],
    [
      'others came first',
      [wish({ groups: 2 }), wish({ id: 'o2', groups: 3, priority: 5 })],
      1,
      '1 group that could be spared for it went to other orders',
    ],
    [
      'both',
      [wish({ groups: 5 }), wish({ id: 'o2', groups: 3, priority: 5 })],
      4,
      'only 4 groups of 10 can be spared, and 3 groups that could be spared for it went to other orders',
    ],
  ])('what is not met, and why: %s', async (_name, wanted, groups, why) => {
    const { unmet } = await ask({ wanted, cultures: [culture('A', 28, 'red'), culture('B', 25)] });
    expect(unmet).toEqual([{ id: 'o1', groups, why }]);
  });

  test('lines that are never mixed do not meet in a wish, though they may fill two', async () => {
    const cultures = [culture('A', 20, 'dusk'), culture('B', 30, 'dawn'), culture('C', 10)];
    const apart: AllocateInput['apart'] = [['dusk', 'dawn']];
    const wanted = [wish({ groups: 5 })];
    expect(await given({ wanted, cultures, apart })).toEqual(['o1 3 from B', 'o1 1 from C']);
    // B alone, or A with C: as many groups, and one culture less.
    const all = [...apart, [null, 'dawn']] as typeof apart;
    expect(await given({ wanted, cultures, apart: all })).toEqual(['o1 3 from B']);
    const two = [wish({ groups: 2 }), wish({ id: 'o2', groups: 3 })];
    expect(await given({ wanted: two, cultures: cultures.slice(0, 2), apart })).toEqual([
      'o1 2 from A',
      'o2 3 from B',
    ]);
  });

  test('what a wish has already counts for what it may get', async () => {
    const cultures = [culture('A', 20, 'dusk'), culture('B', 30, 'dawn'), culture('C', 10)];
    const has = [{ code: 'Z', line: 'dusk' }];
    const apart: AllocateInput['apart'] = [['dawn', 'dusk']];
    expect(await given({ wanted: [wish({ has })], cultures, apart })).toEqual(['o1 1 from A']);
    const separate = wish({ has, separateLines: true, groups: 2 });
    expect(await given({ wanted: [separate], cultures, apart })).toEqual(['o1 1 from C']);
    const alone = wish({ has: [{ code: 'C' }], separateLines: true });
    const { unmet } = await ask({ wanted: [alone], cultures: [culture('C', 10)] });
    expect(unmet[0]?.why).toContain('of lines that it has a group of already');
    const kept = await ask({ wanted: [wish({ has })], cultures: [culture('B', 30, 'dawn')], apart });
    expect(kept.unmet[0]?.why).toBe(
      'what can be spared is of lines that are never mixed with what it has already',
    );
  });

  test.each([
    [{ groups: 5 }, 1, 'only 4 groups of 10 can be spared from lines that may come together'],
    [{ groups: 6 }, 2, 'only 4 groups of 10 can be spared from lines that may come together'],
    [
      { groups: 3, separateLines: true },
      1,
      'only 2 lines that may come together have a group to spare, and each group is to come from a line of its own',
    ],
  ])('what is not met because lines are kept apart: %j', async (more, groups, why) => {
    const cultures = [culture('A', 20, 'dusk'), culture('B', 30, 'dawn'), culture('C', 10)];
    const { unmet } = await ask({ wanted: [wish(more)], cultures, apart: [['dawn', 'dusk']] });
    expect(unmet).toEqual([{ id: 'o1', groups, why }]);
  });

  test('nothing there', async () => {
    const nothing = { allocations: [], optimal: true, gap: { groups: 0, cultures: 0, shareLeft: 0 } };
    expect(await ask({ wanted: [wish()] })).toMatchObject(nothing);
    expect(await ask({ wanted: [wish()], cultures: [culture('A', 0)] })).toMatchObject(nothing);
  });
});

const line = fc.constantFrom(null, 'red', 'blue', 'green');
const pairOfLines = fc.tuple(line, line).filter(([one, other]) => one !== other);
const species = fc.constantFrom('s', 's', 's', 't');
const smallCase = fc
  .record({
    wanted: fc.array(
      fc.record({
        species,
        groups: fc.integer({ min: 1, max: 3 }),
        groupSize: fc.constantFrom(4, 6, 10),
        line: fc.constantFrom(null, null, null, 'red'),
        separateLines: fc.boolean(),
        priority: fc.constantFrom(1, 1, 2),
        has: fc.array(fc.record({ code: fc.constantFrom('C0', 'C1', 'gone'), line }), { maxLength: 1 }),
      }),
      { minLength: 1, maxLength: 3 },
    ),
    apart: fc.array(pairOfLines, { maxLength: 4 }),
    cultures: fc.array(fc.record({ species, line, spare: fc.integer({ min: 0, max: 30 }) }), {
      minLength: 1,
      maxLength: 4,
    }),
  })
  .map(({ wanted, cultures, apart }) => {
    const coded = cultures.map((one, i) => ({ ...one, code: `C${i}` }));
    // A culture that gave already and is still there is of the line that it is of.
    const lineOf = (code: string, or: string | null) => {
      const known = coded.find((one) => one.code === code);
      return known ? known.line : or;
    };
    return allocateInput.parse({
      wanted: wanted.map(({ has, ...one }, i) => ({
        ...one,
        id: `o${i}`,
        has: has.map(({ code, line: or }) => ({ code, line: lineOf(code, or) })),
      })),
      cultures: coded,
      apart,
    });
  });

describe('against every way there is', () => {
  test('as many groups by priority, as few cultures, as even a rest as the best of all ways', async () => {
    await fc.assert(
      fc.asyncProperty(smallCase, async (question) => {
        const answer = await allocate(question);
        const way = givenBy(question, answer);
        expect(isPossible(question, way)).toBe(true);
        expect(answer.optimal).toBe(true);
        const [merit, best] = [meritOf(question, way), bestMerit(question)];
        expect({ ...merit, shares: null }).toEqual({ ...best, shares: null });
        for (const [one, share] of Object.entries(best.shares))
          expect(merit.shares[one]).toBeCloseTo(share, 9);
      }),
      { numRuns: 80, seed: 11 },
    );
  });

  test('what is given and what is missing make up what was wanted', async () => {
    await fc.assert(
      fc.asyncProperty(smallCase, async (question) => {
        const { allocations, unmet } = await allocate(question);
        for (const { id, groups, groupSize } of question.wanted) {
          const rows = allocations.filter((row) => row.id === id);
          const missing = unmet.find((row) => row.id === id);
          const got = rows.reduce((sum, row) => sum + row.groups, 0);
          expect(got + (missing?.groups ?? 0)).toBe(groups);
          expect(rows.every((row) => row.groups > 0 && row.animals === row.groups * groupSize)).toBe(true);
          expect(missing === undefined || missing.why.length > 10).toBe(true);
        }
      }),
      { numRuns: 40, seed: 12 },
    );
  });
});

describe('the most that can come together', () => {
  test('the worked example', () => {
    const groups = new Map([
      ['dusk', 2],
      ['dawn', 3],
      [null, 1],
    ]);
    expect(mostTogether(groups, neverMixedBy([['dusk', 'dawn']]))).toBe(4);
  });

  test('is the best of all sets of lines', () => {
    const names = ['a', 'b', 'c', 'd', 'e', null];
    const pair = fc.tuple(fc.constantFrom(...names), fc.constantFrom(...names));
    const amounts = fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 6, maxLength: 6 });
    fc.assert(
      fc.property(fc.array(pair, { maxLength: 9 }), amounts, (pairs, amount) => {
        const neverMixed = neverMixedBy(pairs);
        let best = 0;
        for (let set = 0; set < 64; set += 1) {
          const chosen = names.filter((_, i) => set & (1 << i));
          if (chosen.some((one) => chosen.some((other) => neverMixed(one, other)))) continue;
          const sum = names.reduce((all, _, i) => all + (set & (1 << i) ? amount[i]! : 0), 0);
          best = Math.max(best, sum);
        }
        expect(mostTogether(new Map(names.map((one, i) => [one, amount[i]!])), neverMixed)).toBe(best);
      }),
      { numRuns: 60, seed: 13 },
    );
  });

  test('of a hundred lines all kept pure is the largest, and comes to an end', () => {
    const names = Array.from({ length: 100 }, (_, i) => `L${i}`);
    const groups = new Map(names.map((one, i) => [one, i % 7]));
    expect(mostTogether(groups, (one, other) => one !== other)).toBe(6);
  });
});

describe('a packing day: 60 orders, 200 cultures', () => {
  const random = randomFrom(3);
  const one = (most: number) => Math.floor(random.uniform() * most);
  const packingDay = (sizes: number[], kinds: number): AllocateQuestion =>
    allocateInput.parse({
      timeLimitSeconds: 2,
      wanted: Array.from({ length: 60 }, (_, i) => ({
        id: `o${i}`,
        species: `s${one(kinds)}`,
        groups: 1 + one(4),
        groupSize: sizes[one(sizes.length)],
        separateLines: one(5) === 0,
        priority: 1 + one(3),
      })),
      cultures: Array.from({ length: 200 }, (_, i) => ({
        code: `C${i}`,
        species: `s${one(kinds)}`,
        line: one(3) === 0 ? null : `L${one(20)}`,
        spare: one(50),
      })),
      apart: Array.from({ length: 19 }, (_, i) => [`L${i}`, i % 4 === 0 ? null : `L${i + 1}`]),
    });

  test.each([
    ['ten species, groups of a dozen', packingDay([12], 10)],
    ['one species, groups of many sizes', packingDay([5, 7, 11, 12, 13, 20], 1)],
  ])('%s: allowed, and optimal or with what may be missing', async (_name, question) => {
    const answer = await allocate(question);
    expect(isPossible(question, givenBy(question, answer))).toBe(true);
    const { groups, cultures, shareLeft } = answer.gap;
    expect(answer.optimal).toBe(groups === 0 && cultures === 0 && shareLeft === 0);
    expect(Math.min(groups, cultures, shareLeft)).toBeGreaterThanOrEqual(0);
  });

  test('without time there is still an answer, and it does not call itself optimal', async () => {
    const question = { ...packingDay([5, 7, 12], 1), timeLimitSeconds: 0.001 };
    const answer = await allocate(question);
    expect(isPossible(question, givenBy(question, answer))).toBe(true);
    expect(answer.optimal).toBe(false);
    expect(answer.allocations.length).toBeGreaterThan(20);
  });

  test('asked twice, answered twice alike', async () => {
    const question = { ...packingDay([12], 10), timeLimitSeconds: 60 };
    expect(await allocate(question)).toEqual(await allocate(question));
  });
});

describe('through the same door as the command line', () => {
  const run = (input: object) => calculations.allocate.run(input);

  test('what may be left out', async () => {
    const cultures = [{ code: 'A', species: 's', spare: 12 }];
    const wanted = [{ id: 'o1', species: 's', groups: 1, groupSize: 12 }];
    const answer = { ok: true, result: { allocations: [{ id: 'o1', code: 'A', groups: 1, animals: 12 }] } };
    expect(await run({ wanted, cultures })).toMatchObject(answer);
    const full = { line: null, separateLines: false, priority: 1 };
    expect(await run({ wanted: [{ ...wanted[0], ...full }], cultures })).toMatchObject(answer);
  });

  test('a line is not kept apart from itself', async () => {
    const outcome = await run({ wanted: [wish()], apart: [['dusk', 'dusk']] });
    const faults = outcome.ok ? [] : outcome.faults.map(({ path, message }) => `${path}: ${message}`);
    expect(faults).toEqual(['apart[0]: keeps a line apart from itself']);
  });

  test('faults with their paths', async () => {
    const outcome = await run({
      wanted: [wish({ groups: 0 }), wish({ groupSize: 1.5, colour: 'red' })],
      cultures: [culture('A', -1), culture('A', 2)],
    });
    const faults = outcome.ok ? [] : outcome.faults.map(({ path, message }) => `${path}: ${message}`);
    expect(faults).toEqual([
      'wanted[0].groups: must be at least 1',
      'wanted[1].groupSize: must be a whole number',
      'wanted[1].colour: is not known here',
      'cultures[0].spare: must be at least 0',
    ]);
    expect(await run({ wanted: [] })).toEqual({
      ok: false,
      faults: [{ path: 'wanted', message: 'must name at least one wish' }],
    });
    const twice = await run({ wanted: [wish(), wish()], cultures: [culture('A', 1), culture('A', 2)] });
    expect(twice).toEqual({
      ok: false,
      faults: [
        { path: 'wanted[1].id', message: 'is there twice' },
        { path: 'cultures[1].code', message: 'is there twice' },
      ],
    });
  });

  test('more than fits into the memory is refused', async () => {
    const wanted = Array.from({ length: 100 }, (_, i) => wish({ id: `o${i}`, groupSize: i + 1 }));
    const cultures = Array.from({ length: 2_000 }, (_, i) => culture(`C${i}`, 1_000));
    expect(await run({ wanted, cultures })).toMatchObject({ ok: false, faults: [{ path: 'wanted' }] });
  });
});
