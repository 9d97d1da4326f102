import { z } from 'zod';
import { typedNumber } from '../settings/typed-number.ts';

const temp = typedNumber({ min: 0, max: 120 }).optional();
const days = typedNumber({ above: 0, max: 3_000 }).optional();
const source = z.string().trim().max(200, 'At most 200 characters.').optional();

export const stages = ['hatch', 'adult'] as const;
export type Stage = (typeof stages)[number];

/** Two times of each stage; a stage that is left empty is not foretold. */
export const stagesForm = z.object({
  hatchCool: temp,
  hatchCoolDays: days,
  hatchWarm: temp,
  hatchWarmDays: days,
  hatchSource: source,
  adultCool: temp,
  adultCoolDays: days,
  adultWarm: temp,
  adultWarmDays: days,
  adultSource: source,
});
export type StagesForm = z.output<typeof stagesForm>;
