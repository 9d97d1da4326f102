import { z } from 'zod';
import { id } from '../cultures/form.ts';
import { addDays, type Day, day, toEpochDay } from '../days.ts';
import { typedNumber } from '../settings/typed-number.ts';

export const planKinds = ['split', 'repot'] as const;
export type PlanKind = (typeof planKinds)[number];

/** What somebody means to do, when, and how many enclosures of which kind are filled for it. */
export const planForm = z.object({
  what: z.enum(planKinds, { error: 'Choose what is planned.' }),
  onDay: z.string({ error: 'Choose a day.' }).pipe(day),
  enclosureId: id,
  enclosures: typedNumber({ whole: true, min: 1, max: 50 }),
  back: z.enum(['substrate', 'culture']).catch('culture'),
});

/**
 * The Sunday that ends the week of a day (ISO 8601: weeks begin on Monday).
 *
 * @example weekEnd('2026-11-25') // '2026-11-29', from a Wednesday
 */
export function weekEnd(onDay: Day): Day {
  // 1970-01-01 was a Thursday.
  const sinceMonday = (((toEpochDay(onDay) + 3) % 7) + 7) % 7;
  return addDays(onDay, 6 - sinceMonday);
}
