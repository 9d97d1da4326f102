import { z } from 'zod';
import { neededLine, optionalLine, optionalLines } from '../text.ts';
import { isCountryCode } from './countries.ts';
import { languages } from './languages.ts';
import { isCurrency, isNumberForm, isTimeZone } from './regions.ts';

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

/** What is asked at the set-up; what may be left out is then as usual in the country. The rest can wait. */
export const firstBusinessForm = z.object({
  ...first,
  timeZone: first.timeZone.optional(),
  currency: first.currency.optional(),
  units: first.units.optional(),
  paper: first.paper.optional(),
});

export type FirstBusinessForm = z.infer<typeof firstBusinessForm>;

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
});

export type BusinessForm = z.infer<typeof businessForm>;
