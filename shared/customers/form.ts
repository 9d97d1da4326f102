import { z } from 'zod';
import { isCountryCode } from '../settings/countries.ts';
import { languages } from '../settings/languages.ts';
import { neededLine, optionalLine, optionalLines } from '../text.ts';

const email = optionalLine(254).refine((text) => text === '' || z.email().safeParse(text).success, {
  error: 'This is not an e-mail address. Write it like name@example.org, or leave it empty.',
});

/** A version number that travels in a form, so that two people who edit at once notice each other. */
export const version = z
  .string()
  .regex(/^\d{1,9}$/)
  .transform(Number);

/** A customer as the owner writes one down: who, where the box goes, and how they want their papers. */
export const customerForm = z.object({
  name: neededLine(200, 'Write the name that stands on the parcel.'),
  email,
  phone: optionalLine(60),
  street: optionalLines(300),
  postcode: optionalLine(20),
  city: optionalLine(120),
  region: optionalLine(120),
  country: z
    .string({ error: 'Choose a country.' })
    .refine(isCountryCode, { error: 'Choose a country from the list.' }),
  units: z.enum(['metric', 'us'], { error: 'Choose the units for the care sheets.' }),
  paper: z.enum(['A4', 'Letter'], { error: 'Choose the paper for the care sheets.' }),
  language: z.enum(languages, { error: 'Choose the language they read.' }).default('en'),
  note: optionalLines(2000),
  retired: z.literal('yes').optional(),
  version: version.optional(),
});

export type CustomerForm = z.infer<typeof customerForm>;
