import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { calculations } from '../../shared/calculations.ts';
import { addDays } from '../../shared/days.ts';
import { type Feeders, feeders } from '../../shared/feeders/feeders.ts';
import { type FeedersInput, type FeedersQuestion, feedersInput } from '../../shared/feeders/form.ts';
import { givesInWeek, suppliesOf } from '../../shared/feeders/supply.ts';

const monday = '2026-11-02';
const weeksOf = (...demands: number[]) =>
  demands.map((demand, w) => ({ weekStart: addDays(monday, 7 * w), demand }));
const culture = { leadDays: 14, productiveDays: 21, yield: 400, seedAdults: 50 };
const ask = (given: FeedersInput): Promise<Feeders> => feeders(feedersInput.parse(given));
const total = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);

async function refuses(input: object): Promise<string> {
  const outcome = await calculations.feeders.run(input);
  if (outcome.ok) throw new Error('was not refused');
  return outcome.faults.map(({ path, message }) => `${path}: ${message}`).join('\n');
}

describe('what a culture gives', () => {
  test('nothing before it is ready, then its yield in equal parts, and no more than that', () => {
    const gives = [0, 1, 2, 3, 4, 5, 6].map((w) => givesInWeek(culture, monday, addDays(monday, 7 * w)));
    for (const [w, wanted] of [0, 0, 400 / 3, 400 / 3, 400 / 3, 0, 0].entries())
      expect(gives[w]).toBeCloseTo(wanted, 9);
  });

  test('weeks that it begins or ends in get their days', () => {
    const odd = { leadDays: 10, productiveDays: 8, yield: 80, seedAdults: 0 };
    expect(givesInWeek(odd, monday, addDays(monday, 7))).toBe(40);
    expect(givesInWeek(odd, monday, addDays(monday, 14))).toBe(40);
    expect(givesInWeek(odd, addDays(monday, -4), monday)).toBe(10);
  });
});

describe('feeders', () => {
  test('the worked example', async () => {
    const given = {
      weeks: weeksOf(0, 100),
      culture: { leadDays: 7, productiveDays: 7, yield: 150, seedAdults: 0 },
    };
    expect(await ask({ ...given, safety: 1.2 })).toEqual({
      starts: [{ weekStart: monday, cultures: 1 }],
      weeks: [
        { weekStart: monday, demand: 0, supply: 0, short: false },
        { weekStart: '2026-11-09', demand: 100, supply: 150, short: false },
      ],
    });
  });

  test('nothing runs: the first weeks cannot be covered and say so, the others are', async () => {
    const { weeks, starts } = await ask({ weeks: weeksOf(200, 200, 200, 200, 200, 200), culture });
    expect(weeks.map(({ short }) => short)).toEqual([true, true, false, false, false, false]);
    // 240 a week take two cultures of 400 / 3 a week for weeks 3 to 5, and two more for the last: one of those a week
    // earlier and one later, because week 4 cannot spare the animals for two.
    expect(total(starts.map(({ cultures }) => cultures))).toBe(4);
    expect(starts[0]).toEqual({ weekStart: monday, cultures: 2 });
  });

  test('what runs already covers: nothing is started', async () => {
    const running = [{ startedOn: addDays(monday, -14), cultures: 2 }];
    expect((await ask({ weeks: weeksOf(200, 200, 200), culture, running })).starts).toEqual([]);
  });

  test('no weeks, no plan; no demand, no starts', async () => {
    expect(await ask({ culture })).toEqual({ starts: [], weeks: [] });
    expect((await ask({ weeks: weeksOf(0, 0, 0), culture })).starts).toEqual([]);
  });

  test('faults are named where they are', async () => {
    expect(await refuses({ culture: { ...culture, seedAdults: 400 } })).toBe(
      'culture.seedAdults: must be less than yield: a culture that takes as much as it gives feeds nobody',
    );
    const [first, , third] = weeksOf(1, 1, 1);
    expect(await refuses({ culture, weeks: [first, third] })).toBe(
      'weeks[1].weekStart: must be a week after the one above it, 2026-11-02',
    );
    expect(await refuses({ culture: { ...culture, leadDays: -1 } })).toBe(
      'culture.leadDays: must be at least 0',
    );
  });
});

/** Few short weeks first, then few starts. */
type Worth = [short: number, starts: number];

/** Every plan with up to so many starts a week: what the best of them comes to. */
function bestOfAll(question: FeedersQuestion, most: number): Worth {
  const { weeks, safety } = question;
  let best: Worth = [Infinity, Infinity];
  const plans = (most + 1) ** weeks.length;
  for (let plan = 0; plan < plans; plan += 1) {
    const starts = weeks.map((_, w) => Math.floor(plan / (most + 1) ** w) % (most + 1));
    const short = suppliesOf(question, starts).filter(
      (supply, w) => supply < safety * (weeks[w]?.demand ?? 0) - 1e-4,
    ).length;
    const worth: Worth = [short, total(starts)];
    if (worth[0] < best[0] || (worth[0] === best[0] && worth[1] < best[1])) best = worth;
  }
  return best;
}

const small = fc
  .record({
    demands: fc.array(fc.integer({ min: 0, max: 60 }), { minLength: 1, maxLength: 5 }),
    leadDays: fc.integer({ min: 0, max: 16 }),
    productiveDays: fc.integer({ min: 1, max: 24 }),
    yield: fc.integer({ min: 30, max: 120 }),
    seedAdults: fc.integer({ min: 0, max: 25 }),
    running: fc.array(
      fc.record({ ago: fc.integer({ min: 0, max: 30 }), cultures: fc.integer({ min: 0, max: 2 }) }),
      { maxLength: 3 },
    ),
  })
  .map(({ demands, running, ...of }) =>
    feedersInput.parse({
      weeks: weeksOf(...demands),
      culture: of,
      running: running.map(({ ago, cultures }) => ({ startedOn: addDays(monday, -ago), cultures })),
      safety: 1.2,
    }),
  );

describe('any plan', () => {
  test('is as good as the best of all plans', async () => {
    await fc.assert(
      fc.asyncProperty(small, async (question) => {
        const { weeks, starts } = await feeders(question);
        const [short, fewest] = bestOfAll(question, 4);
        const ours = weeks.filter((week) => week.short).length;
        expect(ours).toBeLessThanOrEqual(short);
        if (ours === short) expect(total(starts.map(({ cultures }) => cultures))).toBeLessThanOrEqual(fewest);
      }),
      { numRuns: 30 },
    );
  }, 30_000);

  test('says what comes of it, and calls short what lacks', async () => {
    await fc.assert(
      fc.asyncProperty(small, async (question) => {
        const { weeks, starts } = await feeders(question);
        const by = new Map(starts.map(({ weekStart, cultures }) => [weekStart, cultures]));
        const supplies = suppliesOf(
          question,
          question.weeks.map(({ weekStart }) => by.get(weekStart) ?? 0),
        );
        weeks.forEach(({ supply, short, demand }, w) => {
          expect(supply).toBeCloseTo(supplies[w] ?? 0, 9);
          expect(short).toBe(supply < 1.2 * demand - 1e-4);
        });
      }),
      { numRuns: 20 },
    );
  }, 30_000);
});
