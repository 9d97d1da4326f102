import { z } from 'zod';
import { typedNumber } from '../settings/typed-number.ts';
import { MOST_ANIMALS } from './form.ts';
import { catchNames, mostCatches } from './page-form.ts';

/** The ways of counting in which every animal passes under the eye, so that taps can count them. */
export const tallyMethod = z.enum(['full', 'sample']).catch('full');
export type TallyMethod = z.output<typeof tallyMethod>;

const tapped = typedNumber({ whole: true, min: 0, max: MOST_ANIMALS }).optional();

export const tallyForm = z
  .object({ adults: tapped, juveniles: tapped })
  .refine((form) => form.adults !== undefined || form.juveniles !== undefined, {
    path: ['adults'],
    message: 'Count at least one of the two; none is 0.',
  });

/**
 * A tally in words, for the note of the count it becomes.
 *
 * @example tallyWords({ adults: 40, juveniles: 1 }) // '40 adults, 1 juvenile.'
 */
export function tallyWords({ adults, juveniles }: z.output<typeof tallyForm>): string {
  const words = (count: number | undefined, one: string) =>
    count === undefined ? [] : [`${count} ${one}${count === 1 ? '' : 's'}`];
  return `${[...words(adults, 'adult'), ...words(juveniles, 'juvenile')].join(', ')}.`;
}

const list = /^\d{1,7}(,\d{1,7})*$/;

/** The catches made so far as they stand in an address; anything else is none. */
export function catchesSoFar(text: unknown): number[] {
  if (typeof text !== 'string' || !list.test(text)) return [];
  return text
    .split(',')
    .map(Number)
    .filter((caught) => caught <= MOST_ANIMALS)
    .slice(0, mostCatches);
}

export const catchForm = z.object({
  caught: typedNumber({ whole: true, min: 0, max: MOST_ANIMALS }),
});

/** The fields of the count that catches come to. */
export const catchFields = (catches: readonly number[]): Record<string, string> =>
  Object.fromEntries(catches.map((caught, index) => [catchNames[index] ?? '', String(caught)]));
