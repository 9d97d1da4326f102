import { z } from 'zod';
import { overruling } from '../cultures/objections.ts';
import { day } from '../days.ts';
import { readNumber } from '../records/rough-numbers.ts';
import { typedNumber } from '../settings/typed-number.ts';
import { optionalLines } from '../text.ts';
import { toolsFields } from '../traces/form.ts';
import {
  COUNT_METHODS,
  type CountInput,
  type CountMethod,
  MARK_RECAPTURE_ESTIMATORS,
  MOST_ANIMALS,
  REMOVAL_ESTIMATORS,
} from './form.ts';

/** The method as it stands in the page's address; anything unknown is the quickest one. */
export const methodChosen = z.enum(COUNT_METHODS).catch('visible');

const common = { onDay: day.optional(), note: optionalLines(3500), ...toolsFields, ...overruling };
const whole = typedNumber({ whole: true, min: 0, max: MOST_ANIMALS });
const atLeastOne = typedNumber({ whole: true, min: 1, max: MOST_ANIMALS });

export type RoughCount = { counted: number; wording: string | null };

/**
 * A whole number however roughly it is put; the wording is kept where it says more than the number. Null when it is
 * none.
 *
 * @example readRoughCount('about 40') // { counted: 40, wording: 'about 40' }
 * @example readRoughCount('1.200') // { counted: 1200, wording: null }
 */
export function readRoughCount(text: string): RoughCount | null {
  for (const mark of ['.', ','] as const) {
    const read = readNumber(text, mark);
    if ('fault' in read || !Number.isInteger(read.value) || read.value > MOST_ANIMALS) continue;
    if ((read.wording?.length ?? 0) > 80) continue;
    return { counted: read.value, wording: read.wording };
  }
  return null;
}

const rough = z.string({ error: 'Fill this in.' }).transform((text, context) => {
  const read = readRoughCount(text);
  if (read) return read;
  context.addIssue({ code: 'custom', message: 'Write a number, such as 40, “about 40” or “40+”.' });
  return z.NEVER;
});

/**
 * The share of the substrate that was searched, written as a percentage or in parts. Null when it is neither, and for
 * a bare number up to 1, which may mean either.
 *
 * @example readSearchedShare('20 %') // 0.2
 * @example readSearchedShare('1 of 5') // 0.2
 */
export function readSearchedShare(text: string): number | null {
  const plain = text.normalize('NFKC').replace(/⁄/g, '/').replace(/\s+/g, ' ').trim().toLowerCase();
  const parts = /^(\d{1,4}) ?(?:of|\/|out of|in) ?(\d{1,4})(?: parts?)?$/.exec(plain);
  if (parts) return shareOrNull(Number(parts[1]) / Number(parts[2]));
  const percent = /^(\d{1,3}(?:[.,]\d{1,2})?) ?(%|percent|per cent)?$/.exec(plain);
  if (!percent) return null;
  const value = Number(percent[1]!.replace(',', '.'));
  return percent[2] === undefined && value <= 1 ? null : shareOrNull(value / 100);
}

const shareOrNull = (share: number) => (share > 0 && share <= 1 ? share : null);

const searchedShare = z.string({ error: 'Say how much was searched.' }).transform((text, context) => {
  const share = readSearchedShare(text);
  if (share !== null) return share;
  context.addIssue({
    code: 'custom',
    message: 'Write a percentage (20 %) or parts (1 of 5), up to all of it.',
  });
  return z.NEVER;
});

export const mostCatches = 5;
export const catchNames = ['catch1', 'catch2', 'catch3', 'catch4', 'catch5'] as const;

const removalForm = z
  .object({
    ...common,
    catch1: whole.optional(),
    catch2: whole.optional(),
    catch3: whole.optional(),
    catch4: whole.optional(),
    catch5: whole.optional(),
    estimator: z.enum(REMOVAL_ESTIMATORS, { error: 'Choose one of the list.' }).default('carle-strub'),
  })
  .superRefine((form, context) => {
    const fault = (name: string, message: string) =>
      context.addIssue({ code: 'custom', path: [name], message });
    const catches = catchesOf(form);
    if (catches.length < 2)
      fault(catches.length === 0 ? 'catch1' : 'catch2', 'At least two catches are needed.');
    else if (form.estimator === 'seber-two-pass' && catches.length !== 2)
      fault('estimator', 'That one works with exactly two catches.');
  });

const markForm = z
  .object({
    ...common,
    marked: atLeastOne,
    caught: atLeastOne,
    recaptured: whole,
    estimator: z.enum(MARK_RECAPTURE_ESTIMATORS, { error: 'Choose one of the list.' }).default('chapman'),
  })
  .superRefine((form, context) => {
    if (form.recaptured <= Math.min(form.marked, form.caught)) return;
    const message = 'Cannot be more than were marked, nor more than were caught.';
    context.addIssue({ code: 'custom', path: ['recaptured'], message });
  });

/** One form for each method: the fields it needs and no others. */
export const countForms = {
  visible: z.object({ ...common, counted: rough }),
  full: z.object({ ...common, counted: whole }),
  sample: z.object({ ...common, counted: whole, fraction: searchedShare }),
  removal: removalForm,
  'mark-recapture': markForm,
} satisfies Record<CountMethod, z.ZodObject>;

type Forms = typeof countForms;
export type CountForm = { [M in CountMethod]: { method: M } & z.output<Forms[M]> }[CountMethod];

/** The catches in order; empty boxes do not count. */
function catchesOf(form: Partial<Record<(typeof catchNames)[number], number>>): number[] {
  return catchNames.flatMap((name) => form[name] ?? []);
}

/** The count that a filled-in form stands for, as the calculation takes it, and its wording where that is rough. */
export function countOf(
  form: CountForm,
  detection: { alpha: number; beta: number },
): { input: CountInput; wording: string | null } {
  const exact = (input: CountInput) => ({ input, wording: null });
  switch (form.method) {
    case 'visible': {
      const { counted, wording } = form.counted;
      return { input: { method: 'visible', counted, detection }, wording };
    }
    case 'full':
      return exact({ method: 'full', counted: form.counted });
    case 'sample':
      return exact({ method: 'sample', counted: form.counted, fraction: form.fraction });
    case 'removal':
      return exact({ method: 'removal', catches: catchesOf(form), estimator: form.estimator });
    case 'mark-recapture': {
      const { marked, caught, recaptured, estimator } = form;
      return exact({ method: 'mark-recapture', marked, caught, recaptured, estimator });
    }
  }
}

/** Which field of the page a fault of the calculation belongs to. */
export function fieldOfFault(method: CountMethod, path: string): string {
  if (method === 'removal') return path.startsWith('estimator') ? 'estimator' : 'catch1';
  const fields = Object.keys(countForms[method].shape);
  const [first = ''] = path.split(/[.[]/);
  return fields.includes(first) ? first : method === 'mark-recapture' ? 'recaptured' : 'counted';
}
