import { z } from 'zod';
import { neededLine, optionalLine, optionalLines } from '../text.ts';
import { isCountryCode } from './countries.ts';
import { languages } from './languages.ts';
import { isCurrency, isNumberForm, isTimeZone } from './regions.ts';

/** What is asked at the set-up; the rest of the business can wait. */
const first = {
  businessName: neededLine(120, 'Write the name of the business, as it stands on papers.'),
  country: z
    .string({ error: 'Choose a country.' })
    .refine(isCountryCode, { error: 'Choose a country from the list.' }),
  timeZone: z
    .string({ error: 'Choose a time zone.' })
    .refine(isTimeZone, { error: 'Choose a time zone from the list.' }),
  currency: z
    .string({ error: 'Choose a currency.' })
    .refine(isCurrency, { error: 'Choose a currency from the list.' }),
  units: z.enum(['metric', 'us'], { error: 'Choose the units.' }),
  paper: z.enum(['A4', 'Letter'], { error: 'Choose the paper.' }),
};

export const firstBusinessForm = z.object(first);

export const businessForm = z.object({
  ...first,
  address: optionalLines(500),
  email: optionalLine(254).refine((text) => text === '' || z.email().safeParse(text).success, {
    error: 'This is not an e-mail address. Write it like name@example.org, or leave it empty.',
  }),
  locale: z
    .string({ error: 'Choose how numbers and dates are written.' })
    .refine(isNumberForm, { error: 'Choose one from the list.' }),
  language: z.enum(languages, { error: 'Choose the language of new customers.' }).default('en'),
  /** A print of what the form was filled with, so that two people who edit at once notice each other. */
  seen: z.string().max(64).default(''),
});

export type BusinessForm = z.infer<typeof businessForm>;
