import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { calculations } from '../../shared/calculations.ts';
import { addDays } from '../../shared/days.ts';
import { CONTACT_KINDS, type Contact, type ContactKind, traceInput } from '../../shared/lines/form.ts';
import { reach } from '../../shared/lines/reach.ts';
import { type TraceAnswer, trace } from '../../shared/lines/trace.ts';

/** `2 A>B split`: on 2 March something went from A to B. */
function contacts(...lines: string[]): Contact[] {
  return lines.map((line) => {
    const [, date, from, to, kind] = /^(\d+) (.+)>(\S+) (.+)$/.exec(line)!;
    return { date: march(Number(date)), from: from!, to: to!, kind: kind as ContactKind };
  });
}

const march = (date: number) => `2026-03-${String(date).padStart(2, '0')}`;

function ask(since: number, ...lines: string[]): TraceAnswer {
  return trace({ contacts: contacts(...lines), flagged: { code: 'A', since: march(since) } });
}

const ways = (found: TraceAnswer['downstream']) => found.map(({ path }) => path.join('>'));

describe('downstream', () => {
  test('worked example: the split before the day does not count, the way round does', () => {
    const answer = ask(2, '1 A>C split', '2 A>B feeders', '2 B>C shared tool');
    expect(answer.downstream).toEqual([
      { code: 'B', earliest: march(2), path: ['A', 'B'], contacts: contacts('2 A>B feeders') },
      {
        code: 'C',
        earliest: march(2),
        path: ['A', 'B', 'C'],
        contacts: contacts('2 A>B feeders', '2 B>C shared tool'),
      },
    ]);
    expect(answer).toMatchObject({ upstream: [], orders: [] });
  });

  test('forward in time only, however the list is ordered', () => {
    expect(ways(ask(1, '9 C>D split', '5 B>C seeding', '4 C>E split', '3 A>B addition').downstream)).toEqual([
      'A>B',
      'A>B>C',
      'A>B>C>D',
    ]);
  });

  test('from and to are not changed over: a contact into the flagged culture reaches nobody', () => {
    expect(ask(1, '2 B>A shared tool', '3 B>C split').downstream).toEqual([]);
  });

  test('the earliest day wins, then the fewest contacts, then the code before, then the list', () => {
    const answer = ask(
      1,
      '3 A>D split',
      '3 A>C split',
      '3 C>E seeding',
      '3 D>E seeding',
      '3 A>B split',
      '3 B>C split',
      '4 A>E split',
      '2 D>F split',
      '3 C>E feeders',
      '5 E>F split',
    );
    expect(ways(answer.downstream)).toEqual(['A>B', 'A>C', 'A>D', 'A>C>E', 'A>C>E>F']);
    expect(answer.downstream[3]?.contacts.map(({ kind }) => kind)).toEqual(['split', 'seeding']);
  });

  test('round and back again: the flagged culture is not listed', () => {
    expect(ways(ask(1, '2 A>B split', '3 B>A addition', '4 A>C split').downstream)).toEqual(['A>B', 'A>C']);
  });
});

describe('orders', () => {
  test('from the flagged culture and from those it reached, the earliest way to each; they pass nothing on', () => {
    const answer = ask(
      2,
      '1 A>100 order',
      '2 A>101 order',
      '3 A>B split',
      '3 B>102 order',
      '4 B>101 order',
      '5 102>C addition',
    );
    expect(ways(answer.orders)).toEqual(['A>101', 'A>B>102']);
    expect(answer.orders.map(({ earliest }) => earliest)).toEqual([march(2), march(3)]);
    expect(ways(answer.downstream)).toEqual(['A>B']);
  });

  test('an order may bear the code of a culture', () => {
    const answer = ask(1, '2 A>B order', '3 B>C split', '3 B>A order');
    expect(answer).toMatchObject({ downstream: [], upstream: [] });
    expect(ways(answer.orders)).toEqual(['A>B']);
  });
});

describe('upstream', () => {
  test('backward in time only, until the day itself, with the first and the last day of each', () => {
    const answer = ask(
      10,
      '10 B>A shared tool',
      '11 C>A split',
      '4 D>B seeding',
      '10 D>B seeding',
      '8 E>D split',
      '12 F>B split',
      '2 B>A split',
    );
    expect(answer.upstream).toEqual([
      {
        code: 'B',
        earliest: march(2),
        latest: march(10),
        path: ['B', 'A'],
        contacts: contacts('10 B>A shared tool'),
      },
      {
        code: 'D',
        earliest: march(4),
        latest: march(10),
        path: ['D', 'B', 'A'],
        contacts: contacts('10 D>B seeding', '10 B>A shared tool'),
      },
      {
        code: 'E',
        earliest: march(8),
        latest: march(8),
        path: ['E', 'D', 'B', 'A'],
        contacts: contacts('8 E>D split', '10 D>B seeding', '10 B>A shared tool'),
      },
    ]);
  });

  test('one culture can stand on both sides', () => {
    const answer = ask(5, '4 B>A split', '6 A>B addition');
    expect([answer.downstream, answer.upstream].map(ways)).toEqual([['A>B'], ['B>A']]);
  });
});

describe('any contacts', () => {
  const someContacts = fc.array(
    fc
      .record({
        day: fc.integer({ min: 1, max: 12 }),
        from: fc.integer({ min: 0, max: 9 }),
        to: fc.integer({ min: 0, max: 9 }),
        kind: fc.constantFrom(...CONTACT_KINDS),
      })
      .map(({ day, from, to, kind }): Contact => {
        return { date: addDays('2026-02-28', day), from: `K${from}`, to: `K${to}`, kind };
      }),
    { maxLength: 40 },
  );
  const since = fc.integer({ min: 1, max: 12 }).map((day) => addDays('2026-02-28', day));
  const many = { numRuns: 500 };

  test('downstream and orders are what a plain reference finds, over ways that hold', () => {
    fc.assert(
      fc.property(someContacts, since, (list, day) => {
        const answer = trace({ contacts: list, flagged: { code: 'K0', since: day } });
        const plain = plainly(list, 'K0', day);
        expect(
          answer.downstream.map(({ code, earliest, path }) => [code, earliest, path.length - 1]),
        ).toEqual(plain.cultures);
        expect(answer.orders.map(({ code, earliest, path }) => [code, earliest, path.length - 1])).toEqual(
          plain.orders,
        );
        for (const found of [...answer.downstream, ...answer.orders]) {
          expectWay(found, list);
          expect(found.path[0]).toBe('K0');
          expect(found.contacts[0]!.date >= day).toBe(true);
          expect(found.contacts.at(-1)!.date).toBe(found.earliest);
        }
      }),
      many,
    );
  });

  test('upstream is downstream with time and direction turned round', () => {
    fc.assert(
      fc.property(someContacts, since, (list, day) => {
        const mirrored = (date: string) => addDays('2026-02-28', 13 - Number(date.slice(8)));
        const cultures = list.filter(({ kind }) => kind !== 'order');
        const turned = cultures.map(({ date, from, to, kind }) => {
          return { date: mirrored(date), from: to, to: from, kind };
        });
        const answer = trace({ contacts: list, flagged: { code: 'K0', since: day } });
        const plain = plainly(turned, 'K0', mirrored(day)).cultures;
        expect(
          answer.upstream.map(({ code, latest, path }) => [code, mirrored(latest), path.length - 1]),
        ).toEqual(plain);
        for (const found of answer.upstream) {
          expectWay(found, list);
          expect(found.path.at(-1)).toBe('K0');
          expect(found.contacts.at(-1)!.date <= day).toBe(true);
          expect(found.contacts[0]!.date).toBe(found.latest);
          expect(found.earliest).toBe(firstOut(found.code, cultures, answer, day));
        }
      }),
      many,
    );
  });

  test('the paths do not depend on the order of the list', () => {
    fc.assert(
      fc.property(someContacts, since, (list, day) => {
        const flagged = { code: 'K0', since: day };
        const [there, back] = [list, [...list].reverse()].map((given) => trace({ contacts: given, flagged }));
        expect(ways(back!.downstream)).toEqual(ways(there!.downstream));
        expect(back!.upstream.map(({ path }) => path)).toEqual(there!.upstream.map(({ path }) => path));
      }),
    );
  });

  test('thousands of contacts; ways without end are refused, not written', () => {
    const chain = (length: number) => ({
      flagged: { code: 'N0', since: '2026-01-01' },
      contacts: Array.from({ length }, (_, i) => {
        return { date: '2026-01-01', from: `N${i}`, to: `N${i + 1}`, kind: 'split' };
      }),
    });
    const { downstream } = trace(traceInput.parse(chain(500)));
    expect(downstream).toHaveLength(500);
    expect(downstream.at(-1)?.path).toHaveLength(501);
    expect(calculations.trace?.run(chain(10_000))).toEqual({
      ok: false,
      faults: [{ path: 'contacts', message: 'lead over paths that are too long to be written down' }],
    });
  });

  test('nothing known: nothing found', () => {
    const flagged = { code: 'A', since: '2026-03-01' };
    expect(calculations.trace?.run({ flagged })).toEqual({
      ok: true,
      result: { downstream: [], upstream: [], orders: [] },
    });
    expect(reach(2, [{ day: 3, from: 0, to: 1 }], 0, 1).days).toEqual([1, 3]);
  });
});

type Row = [code: string, earliest: string, steps: number];

/** Goes over the whole list again and again until nothing changes: first the days, then the fewest contacts. */
function plainly(list: readonly Contact[], start: string, since: string): { cultures: Row[]; orders: Row[] } {
  const keyOf = ({ to, kind }: Contact) => (kind === 'order' ? `order ${to}` : to);
  const days = new Map([[start, since]]);
  const steps = new Map([[start, 0]]);
  let changed = true;
  const lower = <V extends string | number>(map: Map<string, V>, key: string, value: V) => {
    const old = map.get(key);
    if (old !== undefined && old <= value) return;
    map.set(key, value);
    changed = true;
  };
  const counting = (contact: Contact) => {
    const reached = days.get(contact.from);
    return reached !== undefined && reached <= contact.date;
  };
  while (changed) {
    changed = false;
    for (const contact of list) if (counting(contact)) lower(days, keyOf(contact), contact.date);
  }
  changed = true;
  while (changed) {
    changed = false;
    for (const contact of list) {
      const before = steps.get(contact.from);
      if (before === undefined || !counting(contact) || contact.date !== days.get(keyOf(contact))) continue;
      lower(steps, keyOf(contact), before + 1);
    }
  }
  const rows = [...days.keys()].filter((key) => key !== start).sort();
  const sorted = rows
    .map((key): Row => [key, days.get(key)!, steps.get(key)!])
    .sort((a, b) => (a[1] < b[1] ? -1 : a[1] > b[1] ? 1 : a[2] - b[2]));
  return {
    cultures: sorted.filter(([key]) => !key.startsWith('order ')),
    orders: sorted
      .filter(([key]) => key.startsWith('order '))
      .map(([key, ...rest]) => [key.slice('order '.length), ...rest]),
  };
}

/** A way of contacts that are in the list, each starting where the last ended, never back in time. */
function expectWay(
  { path, contacts: way }: TraceAnswer['downstream'][number],
  list: readonly Contact[],
): void {
  expect(way.length).toBe(path.length - 1);
  for (const [i, contact] of way.entries()) {
    expect(list).toContain(contact);
    expect([contact.from, contact.to]).toEqual([path[i], path[i + 1]]);
    expect(i === 0 || way[i - 1]!.date <= contact.date).toBe(true);
    expect(contact.kind !== 'order' || i === way.length - 1).toBe(true);
  }
}

/** The first contact out of a culture into one that could still pass it on. */
function firstOut(code: string, list: readonly Contact[], answer: TraceAnswer, since: string): string {
  const until = new Map([['K0', since], ...answer.upstream.map((one) => [one.code, one.latest] as const)]);
  const dates = list.flatMap(({ date, from, to }) =>
    from === code && to !== code && date <= (until.get(to) ?? '') ? [date] : [],
  );
  return dates.sort()[0]!;
}
