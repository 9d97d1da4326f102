import { z } from 'zod';
import { renewals } from '../checks/form.ts';
import { cultureCode, foundingDoubt, id } from '../cultures/form.ts';
import { overruling } from '../cultures/objections.ts';
import { day } from '../days.ts';
import { typedNumber } from '../settings/typed-number.ts';
import { volumeUnit } from '../settings/typed-volume.ts';
import { optionalLines } from '../text.ts';
import { toolsFields } from '../traces/form.ts';

const some = typedNumber({ whole: true, min: 0, max: 100_000 })
  .optional()
  .transform((animals) => animals ?? 0);

/** Part of a culture starts a new one: what moves, and where to. */
export const splitForm = z
  .object({
    adults: some,
    juveniles: some,
    sure: z.enum(Object.keys(foundingDoubt) as [Sure, ...Sure[]], { error: 'Choose one.' }).default('exact'),
    seeding: typedNumber({ above: 0, max: 10_000 }).optional(),
    seedingUnit: volumeUnit,
    /** The substrate of the culture it is split off was renewed at the same time. */
    substrate: z.enum(renewals).optional(),
    code: cultureCode.optional(),
    placeId: id.optional(),
    enclosureId: id,
    lineId: id.optional(),
    onDay: day.optional(),
    note: optionalLines(3500),
    ...toolsFields,
    ...overruling,
  })
  .superRefine(({ adults, juveniles }, context) => {
    if (adults + juveniles > 0) return;
    context.addIssue({ code: 'custom', path: ['adults'], message: 'At least one animal must move.' });
  });
export type SplitForm = z.infer<typeof splitForm>;

/** How sure the number of a founding group is. */
export type Sure = keyof typeof foundingDoubt;
