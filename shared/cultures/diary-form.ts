import { z } from 'zod';
import { MOST_ANIMALS } from '../counts/form.ts';
import { day } from '../days.ts';
import { typedNumber } from '../settings/typed-number.ts';
import { volumeUnit } from '../settings/typed-volume.ts';
import { optionalLine, optionalLines, tidyLines } from '../text.ts';
import { contactFields, toolsFields } from '../traces/form.ts';
import { id } from './form.ts';
import { overruling } from './objections.ts';

/** What is written on the page of entries; checks, counts and splits have pages of their own. */
export const writtenKinds = [
  'feed',
  'water',
  'fruit-in',
  'fruit-out',
  'harvest',
  'addition',
  'die-off',
  'mites',
  'mould',
  'move',
  'quarantine',
  'release',
  'retirement',
  'note',
] as const;
export type WrittenKind = (typeof writtenKinds)[number];

/** The kind as it stands in the page's address or form; null where none is chosen. */
export const writtenKind = z.enum(writtenKinds).nullable().catch(null);

const longestNote = 3500;
const common = { onDay: day.optional(), note: optionalLines(longestNote) };
/** What is done with tools or hands in the culture. */
const handled = { ...common, ...toolsFields };
const neededNote = (missing: string) =>
  z
    .string({ error: missing })
    .transform(tidyLines)
    .pipe(
      z.string().min(1, missing).max(longestNote, `This is too long: ${longestNote} characters at most.`),
    );

const some = typedNumber({ whole: true, min: 0, max: MOST_ANIMALS }).optional();

/** Animals in all, and of these adults and juveniles as far as they were told apart. */
const moved = { animals: some, adults: some, juveniles: some };
type Moved = { animals?: number; adults?: number; juveniles?: number };

/**
 * How many animals moved. Left out, the sum is that of adults and juveniles; given, it must hold them.
 *
 * @example movedAnimals({ adults: 10, juveniles: 2 }) // 12
 */
export const movedAnimals = ({ animals, adults = 0, juveniles = 0 }: Moved): number =>
  animals ?? adults + juveniles;

function checkMoved(form: Moved, context: z.RefinementCtx) {
  const told = (form.adults ?? 0) + (form.juveniles ?? 0);
  const fault = (message: string) => context.addIssue({ code: 'custom', path: ['animals'], message });
  if (movedAnimals(form) < 1) fault('At least one animal.');
  else if (movedAnimals(form) < told) fault(`Adults and juveniles together are ${told} already.`);
}

export const retirementReasons = {
  'died-out': 'Died out',
  merged: 'Merged into another culture',
  'given-away': 'Given away or sold whole',
  other: 'Another reason',
} as const;
type RetirementReason = keyof typeof retirementReasons;

/** One form for each kind: the fields it needs and no others. */
export const diaryForms = {
  feed: z
    .object({ ...handled, food: optionalLine(80), feederFrom: contactFields.feederFrom })
    .superRefine(({ food, feederFrom }, context) => {
      if (food === '' && feederFrom === undefined)
        context.addIssue({ code: 'custom', path: ['food'], message: 'Say what they got.' });
    }),
  water: z.object({ ...handled, amount: typedNumber({ above: 0, max: 20_000 }), amountUnit: volumeUnit }),
  'fruit-in': z.object(handled),
  'fruit-out': z.object(handled),
  harvest: z
    .object({
      ...handled,
      ...moved,
      ...overruling,
      note: neededNote('Say what they were taken out for.'),
    })
    .superRefine(checkMoved),
  addition: z.object({ ...handled, ...moved, ...overruling, fromId: id.optional() }).superRefine(checkMoved),
  'die-off': z.object({
    ...handled,
    ...overruling,
    lost: typedNumber({ above: 0, max: 100 }),
    sure: z.enum(['counted', 'roughly'], { error: 'Choose one.' }).default('roughly'),
  }),
  mites: z.object({ ...handled, quarantineToo: z.literal('yes').optional() }),
  mould: z.object(handled),
  move: z.object({ ...common, placeId: id }),
  quarantine: z.object({ ...common, note: neededNote('Say why, so that everybody knows what to look for.') }),
  release: z.object(common),
  retirement: z
    .object({
      ...common,
      why: z.enum(Object.keys(retirementReasons) as [RetirementReason, ...RetirementReason[]], {
        error: 'Say why.',
      }),
    })
    .superRefine(({ why, note }, context) => {
      if (why === 'other' && note === '')
        context.addIssue({ code: 'custom', path: ['note'], message: 'Say which.' });
    }),
  note: z.object({ ...common, note: neededNote('Write something.') }),
} satisfies Record<WrittenKind, z.ZodObject>;

/** Whether a kind is written about work in the culture itself, with hands or tools. */
export const usesTools = (kind: WrittenKind): boolean => 'tools' in diaryForms[kind].shape;

type Forms = typeof diaryForms;
export type DiaryForm = { [K in WrittenKind]: { kind: K } & z.output<Forms[K]> }[WrittenKind];
