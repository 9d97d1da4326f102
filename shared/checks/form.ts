import { z } from 'zod';
import { day } from '../days.ts';
import { volumeUnit } from '../settings/typed-volume.ts';
import { contactFields } from '../traces/form.ts';

const text = (max: number) => z.string().trim().max(max, `At most ${max} characters.`);
const ticked = z.literal('yes').optional();
const amountOfWater = z.coerce
  .number({ error: 'Write how much as a number.' })
  .gt(0, 'More than zero.')
  .max(10_000, 'That is too much.')
  .optional();
const whole = (most: number) =>
  z.coerce
    .number({ error: 'A whole number.' })
    .int('A whole number.')
    .min(0, 'Not below zero.')
    .max(most, 'That is too many.')
    .optional();

/** What a look was looking for, and whether it found it. */
export const lookedFor = ['young', 'no-young', 'adults', 'no-adults'] as const;
/** How substrate is renewed: some of the old is mixed in, or all of it is new. */
export const renewals = ['mixed', 'new'] as const;

/** One look at a culture, and what was done at it. Everything may be left out: then all is well. */
export const checkForm = z.object({
  onDay: day.optional(),
  surface: z.enum(['wet', 'moist', 'dry']).optional(),
  springtails: z.enum(['none', 'few', 'some', 'many']).optional(),
  springtailsWhere: z.enum(['low', 'ranging']).optional(),
  feedersLeft: z.enum(['none', 'few', 'plenty']).optional(),
  youngSeen: ticked,
  lookedFor: z.enum(lookedFor).optional(),
  eggsSeen: ticked,
  mouldSeen: ticked,
  mitesSeen: ticked,
  deaths: whole(100_000),
  visible: whole(1_000_000),
  /** In the unit beside it; what was kept on a phone without one is millilitres. */
  waterMl: amountOfWater,
  waterUnit: volumeUnit.unwrap().optional(),
  food: text(80).optional(),
  ...contactFields,
  fruitIn: ticked,
  fruitOut: ticked,
  substrate: z.enum(renewals).optional(),
  note: text(4000).default(''),
});
export type CheckForm = z.infer<typeof checkForm>;
