import { z } from 'zod';

/** No culture holds more; keeps every sum and search short. */
export const MOST_ANIMALS = 10_000_000;

const DEFAULT_LEVEL = 0.9;
export const DEFAULT_RELATIVE_SD = 0.05;
export const DEFAULT_CLUMPING = 4;

/** A whole number of animals, 0 to ten million. */
export const animals = z.int().min(0).max(MOST_ANIMALS);

/** The probability that lies inside an interval. */
export const level = z.number().gt(0).lt(1).default(DEFAULT_LEVEL);

/** The share of animals that shows, p ~ Beta(alpha, beta). */
export const detection = z.strictObject({
  alpha: z.number().gt(0).max(1_000_000),
  beta: z.number().gt(0).max(1_000_000),
});

/** Every animal was counted, with a relative error. */
export const fullCount = z.strictObject({
  method: z.literal('full'),
  counted: animals,
  relativeSd: z.number().gt(0).max(3).default(DEFAULT_RELATIVE_SD),
  level,
});

/** Those that showed were counted; the share that shows is uncertain. */
export const visibleCount = z.strictObject({
  method: z.literal('visible'),
  counted: animals,
  detection,
  level,
});

/** A known fraction of the substrate was searched; animals sit in clumps. */
export const sampleCount = z.strictObject({
  method: z.literal('sample'),
  counted: animals,
  fraction: z.number().gt(0).max(1),
  clumping: z.number().gt(0).max(1_000_000).default(DEFAULT_CLUMPING),
  level,
});

/** A count that is still to be made: how, but not yet how many. */
export const plannedCount = z.discriminatedUnion('method', [
  fullCount.omit({ counted: true, level: true }),
  visibleCount.omit({ counted: true, level: true }),
  sampleCount.omit({ counted: true, level: true }),
]);

export const REMOVAL_ESTIMATORS = ['carle-strub', 'zippin', 'seber-two-pass'] as const;

/** Several catches with the same effort, nothing put back between them. */
export const removalCount = z
  .strictObject({
    method: z.literal('removal'),
    catches: z.array(animals).min(2).max(20),
    estimator: z.enum(REMOVAL_ESTIMATORS),
    level,
  })
  .refine((count) => count.estimator !== 'seber-two-pass' || count.catches.length === 2, {
    path: ['catches'],
    error: 'must be exactly two catches for seber-two-pass',
  });

export const MARK_RECAPTURE_ESTIMATORS = ['chapman', 'petersen'] as const;

/** Some were marked and let go; of a later catch, some carried the mark. */
export const markRecaptureCount = z
  .strictObject({
    method: z.literal('mark-recapture'),
    marked: animals.min(1),
    caught: animals.min(1),
    recaptured: animals,
    estimator: z.enum(MARK_RECAPTURE_ESTIMATORS),
    level,
  })
  .refine((count) => count.recaptured <= Math.min(count.marked, count.caught), {
    path: ['recaptured'],
    error: 'must not be more than were marked, nor more than were caught',
  });

export const COUNT_METHODS = ['full', 'visible', 'sample', 'removal', 'mark-recapture'] as const;

/** A head count by any method. Other schemas that hold a count extend the five above with `safeExtend`. */
export const countInput = z.discriminatedUnion(
  'method',
  [fullCount, visibleCount, sampleCount, removalCount, markRecaptureCount],
  {
    error: (issue) =>
      issue.code === 'invalid_union' ? `must be one of ${COUNT_METHODS.join(', ')}` : undefined,
  },
);

/** A count as people and forms give it: what has a default may be left out. */
export type CountInput = z.input<typeof countInput>;
/** A count with every default filled in. */
export type Count = z.output<typeof countInput>;

export type FullCount = z.output<typeof fullCount>;
export type VisibleCount = z.output<typeof visibleCount>;
export type SampleCount = z.output<typeof sampleCount>;
export type PlannedCount = z.output<typeof plannedCount>;
export type RemovalCount = z.output<typeof removalCount>;
export type MarkRecaptureCount = z.output<typeof markRecaptureCount>;

export type CountMethod = Count['method'];
