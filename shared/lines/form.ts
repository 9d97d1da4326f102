import { z } from 'zod';
import { animals, MOST_ANIMALS } from '../counts/form.ts';
import { day } from '../days.ts';
import { typedNumber } from '../settings/typed-number.ts';
import { neededLine, optionalLine, optionalLines } from '../text.ts';
import { lineageFaults } from './lineage-faults.ts';
import { mixingFaults } from './mixing-faults.ts';
import { purities } from './page-apart.ts';

export const lineForm = z
  .object({
    speciesId: typedNumber({ whole: true, min: 1 }),
    name: neededLine(80, 'Give the line a name.'),
    locality: optionalLine(200),
    note: optionalLines(2000),
    keptPure: z.enum(purities, { error: 'Choose one.' }).default('no'),
    /** Lines it is never mixed with, by their ids. */
    neverWith: z
      .union([z.string(), z.array(z.string())])
      .optional()
      .transform((value) => [...new Set([value ?? []].flat())].map(Number))
      .pipe(z.array(z.int('Choose lines of the list.').positive('Choose lines of the list.')).max(200)),
  })
  .superRefine(({ keptPure, locality }, context) => {
    if (keptPure !== 'locality' || locality !== '') return;
    context.addIssue({ code: 'custom', path: ['locality'], message: 'Write down which locality that is.' });
  });
export type LineForm = z.output<typeof lineForm>;

export const lineFieldWords: Record<string, string> = {
  speciesId: 'Species',
  name: 'Name',
  locality: 'Locality',
  note: 'Note',
  keptPure: 'How pure it is kept',
  neverWith: 'Never mixed with',
};

/** The kinship of more cultures than these no longer fits into memory or on paper. */
const MOST_CULTURES = 4_000;
const MOST_PARENTS = 20;
const MOST_CONTACTS = 100_000;

const code = z.string().min(1).max(100);
const someAnimals = animals.min(1);

const lineageCulture = z.strictObject({
  code,
  foundedOn: day,
  /** The cultures its founding animals came from, and how many from each (twice named, both count); or `wild`. */
  parents: z
    .array(z.strictObject({ code, animals: someAnimals }))
    .max(MOST_PARENTS)
    .default([]),
  /** Founding animals from the wild (or from strangers): kin of nobody here. */
  wild: someAnimals.optional(),
  /** How many animals lived in it on a day, in any order; of one day the last. An estimate need not be whole. */
  sizes: z
    .array(z.strictObject({ date: day, animals: z.number().min(0).max(MOST_ANIMALS) }))
    .max(100_000)
    .default([]),
  /** Animals put in later from another culture. */
  additions: z
    .array(z.strictObject({ date: day, code, animals: someAnimals }))
    .max(10_000)
    .default([]),
});

/** What decides how fast a number of animals loses heterozygosity. */
const breeding = z.strictObject({
  generationDays: z.number().min(1).max(36_500),
  femaleShare: z.number().min(0).max(1),
  /** Effective over counted animals, beyond the share of the sexes. */
  neRatio: z.number().gt(0).max(10),
});

const lineageShape = z.strictObject({
  cultures: z.array(lineageCulture).min(1).max(MOST_CULTURES),
  ...breeding.shape,
  asOf: day,
});

export const lineageInput = lineageShape.superRefine((lineage, context) => {
  for (const fault of lineageFaults(lineage)) context.addIssue({ code: 'custom', ...fault });
});

export type LineageInput = z.input<typeof lineageInput>;
export type Lineage = z.output<typeof lineageShape>;
export type LineageCulture = Lineage['cultures'][number];
export type Breeding = z.output<typeof breeding>;

export const mixingInput = lineageInput
  .safeExtend({
    /** The culture that is to be strengthened. */
    for: code,
    /** Pairs of cultures that stay apart, in either order. */
    neverMix: z
      .array(z.tuple([code, code]))
      .max(1_000_000)
      .default([]),
    /** The gain in heterozygosity kept that is aimed at; half of what the best partner can give if left out. */
    gain: z.number().gt(0).lt(1).optional(),
  })
  .superRefine((question, context) => {
    for (const fault of mixingFaults(question)) context.addIssue({ code: 'custom', ...fault });
  });

export type MixingInput = z.input<typeof mixingInput>;
export type MixingQuestion = z.output<typeof mixingInput>;

export const CONTACT_KINDS = ['split', 'seeding', 'feeders', 'addition', 'shared tool', 'order'] as const;

/** Something went from one culture to another on a day; for `order`, animals went into the order named by `to`. */
const contact = z.strictObject({ date: day, from: code, to: code, kind: z.enum(CONTACT_KINDS) });

export const traceInput = z.strictObject({
  contacts: z.array(contact).max(MOST_CONTACTS).default([]),
  /** What was found, and the day from which it must be taken to have been there. */
  flagged: z.strictObject({ code, since: day }),
});

export type TraceQuestion = z.output<typeof traceInput>;
export type Contact = z.output<typeof contact>;
export type ContactKind = Contact['kind'];
