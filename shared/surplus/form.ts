import { z } from 'zod';
import { animals, DEFAULT_RELATIVE_SD, detection, MOST_ANIMALS, plannedCount } from '../counts/form.ts';
import { populationInput } from '../counts/population/form.ts';

/** What decides how much a culture can spare. */
const surplusSettings = z.strictObject({
  /** What must stay: the larger of a number of animals and a share of the capacity. */
  reserve: z.strictObject({
    animals: z.number().min(0).max(MOST_ANIMALS),
    shareOfCapacity: z.number().min(0).max(1),
  }),
  /** Animals promised to orders, still in the culture. */
  promised: animals,
  /** How sure one must be that the reserve stays. */
  confidence: z.number().gt(0).lt(1),
  /** What one starter group takes out. */
  group: z
    .strictObject({ adults: animals, juveniles: animals })
    .refine((group) => group.adults + group.juveniles > 0, { error: 'must hold at least one animal' }),
  /** The share of adults among the animals, a Beta distribution. */
  adultShare: detection,
});

export const surplusInput = populationInput.safeExtend(surplusSettings.shape);

/** More cultures than anyone could count in a season. */
const MOST_CANDIDATES = 5_000;

export const countNextInput = z
  .strictObject({
    cultures: z
      .array(
        surplusInput.safeExtend({
          code: z.string().min(1).max(100),
          /** How long the count would take. */
          minutes: z.number().gt(0).max(1_440),
        }),
      )
      .max(MOST_CANDIDATES)
      .min(1, 'must name at least one culture'),
    /** How they would be counted. */
    method: plannedCount.default({ method: 'full', relativeSd: DEFAULT_RELATIVE_SD }),
  })
  .superRefine(({ cultures }, context) => {
    const known = new Set<string>();
    for (const [i, { code }] of cultures.entries()) {
      if (known.has(code)) {
        context.addIssue({ code: 'custom', path: ['cultures', i, 'code'], message: 'is there twice' });
      }
      known.add(code);
    }
  });

export type CountNextInput = z.input<typeof countNextInput>;
export type CountNextQuestion = z.output<typeof countNextInput>;
export type SurplusInput = z.input<typeof surplusInput>;
export type SurplusQuestion = z.output<typeof surplusInput>;
export type SurplusSettings = z.output<typeof surplusSettings>;
