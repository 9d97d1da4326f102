import { z } from 'zod';
import { animals, MOST_ANIMALS } from '../counts/form.ts';

const MOST_WISHES = 2_000;
const MOST_CULTURES = 5_000;
const DEFAULT_SECONDS = 5;

const MOST_APART = 50_000;

const name = z.string().min(1).max(100);
/** Cultures that descend from the same founders; without one, a culture is a line of its own. */
const line = name.nullable();

const wish = z.strictObject({
  id: name,
  species: name,
  /** Starter groups asked for. */
  groups: z.int().min(1).max(100_000),
  /** Animals that leave a culture with one group. */
  groupSize: z.int().min(1).max(MOST_ANIMALS),
  /** Only from this line. */
  line: line.default(null),
  /** No two of its groups from the same line. */
  separateLines: z.boolean().default(false),
  /** Cultures whose groups it has already. */
  has: z
    .array(z.strictObject({ code: name, line: line.default(null) }))
    .max(MOST_CULTURES)
    .default([]),
  /** A higher number comes first. */
  priority: z.int().min(0).max(1_000).default(1),
});

const source = z.strictObject({
  code: name,
  species: name,
  line: line.default(null),
  /** Animals that may leave. */
  spare: animals,
});

export const allocateInput = z
  .strictObject({
    wanted: z.array(wish).max(MOST_WISHES).min(1, 'must name at least one wish'),
    cultures: z.array(source).max(MOST_CULTURES).default([]),
    /** Lines that must not meet in one wish, two by two; null stands for cultures without a line. */
    apart: z
      .array(z.tuple([line, line]))
      .max(MOST_APART)
      .default([]),
    /** The solver's time for the whole; what it has found by then is answered. */
    timeLimitSeconds: z.number().gt(0).max(600).default(DEFAULT_SECONDS),
  })
  .superRefine(({ wanted, cultures, apart }, context) => {
    const refuseTwice = (names: readonly string[], path: (i: number) => (string | number)[]) => {
      const known = new Set<string>();
      for (const [i, one] of names.entries()) {
        if (known.has(one)) context.addIssue({ code: 'custom', path: path(i), message: 'is there twice' });
        known.add(one);
      }
    };
    refuseTwice(
      wanted.map(({ id }) => id),
      (i) => ['wanted', i, 'id'],
    );
    refuseTwice(
      cultures.map(({ code }) => code),
      (i) => ['cultures', i, 'code'],
    );
    for (const [i, [one, other]] of apart.entries())
      if (one === other)
        context.addIssue({ code: 'custom', path: ['apart', i], message: 'keeps a line apart from itself' });
  });

export type AllocateInput = z.input<typeof allocateInput>;
export type AllocateQuestion = z.output<typeof allocateInput>;
export type Wish = AllocateQuestion['wanted'][number];
export type Source = AllocateQuestion['cultures'][number];
