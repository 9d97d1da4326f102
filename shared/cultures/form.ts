import { z } from 'zod';
import { day } from '../days.ts';

const text = (max: number) => z.string().trim().max(max, `At most ${max} characters.`);

/** A code as it stands on the label: short, no spaces, so that it can be read out and typed. */
export const cultureCode = text(24).regex(
  /^[\p{L}\p{N}][\p{L}\p{N}._/-]*$/u,
  'Letters, digits, hyphen, dot or slash, without spaces: for example AR-014.',
);

export const id = z.coerce.number({ error: 'Choose one.' }).int('Choose one.').positive('Choose one.');

/** How well the founding group is known, as the standard deviation of the logarithm of its number. */
export const foundingDoubt = { exact: 0.02, about: 0.15, rough: 0.4 } as const;

const cultureDetails = z.object({
  code: cultureCode,
  speciesId: id,
  morph: text(80).default(''),
  lineId: id.optional(),
  enclosureId: id,
  placeId: id.optional(),
  note: text(4000).default(''),
});

export const newCulture = cultureDetails.extend({
  foundedOn: day,
  origin: z.enum(['wild', 'bought', 'unknown'], { error: 'Say where the founding group came from.' }),
  foundingAnimals: z.coerce
    .number({ error: 'A whole number of animals.' })
    .int('A whole number of animals.')
    .min(1, 'At least one animal.')
    .max(1_000_000, 'At most a million animals.'),
  founding: z.enum(['exact', 'about', 'rough'], { error: 'Say how sure that number is.' }).default('exact'),
});

export const editCulture = cultureDetails.omit({ placeId: true, speciesId: true });

const cultureSorts = ['place', 'code', 'species', 'animals', 'fullness', 'checked'] as const;

/** The filters of the list, as they stand in its address. Anything unknown falls back, so that old links work. */
export const cultureFilter = z.object({
  q: z.string().trim().max(80).catch(''),
  species: z.coerce.number().int().positive().optional().catch(undefined),
  status: z.enum(['current', 'active', 'quarantine', 'retired']).catch('current'),
  place: z.coerce.number().int().positive().optional().catch(undefined),
  sort: z.enum(cultureSorts).catch('place'),
  down: z.literal('1').optional().catch(undefined),
  page: z.coerce.number().int().min(1).max(10_000).catch(1),
});
export type CultureFilter = z.infer<typeof cultureFilter>;
