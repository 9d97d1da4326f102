import { z } from 'zod';
import { id } from '../cultures/form.ts';
import { addDays, type Day, day } from '../days.ts';
import { typedNumber } from '../settings/typed-number.ts';
import { weekStart } from '../settings/week.ts';

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
 * The day that ends the week of a day, for weeks that begin on a weekday (1 Monday to 7 Sunday).
 *
 * @example weekEnd('2026-11-25', 1) // '2026-11-29', from a Wednesday
 */
export const weekEnd = (onDay: Day, firstWeekday: number): Day => addDays(weekStart(onDay, firstWeekday), 6);
