import { z } from 'zod';
import { typedNumber } from '../settings/typed-number.ts';

/** What one feeder culture of a species does, as the owner types it. */
export const feederSpeciesForm = z.object({
  leadDays: typedNumber({ min: 0, max: 400, whole: true }),
  productiveDays: typedNumber({ min: 1, max: 3_650, whole: true }),
  yield: typedNumber({ above: 0, max: 10_000_000 }),
  seedAdults: typedNumber({ min: 0, max: 10_000_000 }),
  safety: typedNumber({ min: 1, max: 10 }),
});
export type FeederSpeciesForm = z.output<typeof feederSpeciesForm>;

/** A species' own share of the form: how many of these an enclosure of it eats in a week. */
export const dietField = typedNumber({ above: 0, max: 1_000_000 });

type Figures = FeederSpeciesForm;

/**
 * What a feeder culture usually does, until the owner knows better: flies come from about two weeks on for some three
 * weeks and the culture goes after about a month; springtails build up for a month and give for years. Common practice,
 * no source; the numbers given are round and careful.
 */
export const usualFeeder: { fly: Figures; springtail: Figures; other: Figures } = {
  fly: { leadDays: 14, productiveDays: 17, yield: 250, seedAdults: 40, safety: 1.2 },
  springtail: { leadDays: 30, productiveDays: 730, yield: 24_000, seedAdults: 100, safety: 1.2 },
  other: { leadDays: 60, productiveDays: 180, yield: 500, seedAdults: 40, safety: 1.2 },
};

/** A few dozen flies an enclosure about weekly. Common practice, no source. */
export const usualMeal = 40;
