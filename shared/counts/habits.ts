import { z } from 'zod';
import { typedNumber } from '../settings/typed-number.ts';
import { type AnimalGroup, animalGroups } from '../species/columns.ts';
import { DEFAULT_CLUMPING, DEFAULT_RELATIVE_SD, type PlannedCount } from './form.ts';
import { readSearchedShare } from './page-form.ts';

/** Ways of counting that can be planned: what they will find can be foreseen from one number. */
export const plannedMethods = ['visible', 'sample', 'full'] as const;
export type PlannedMethod = (typeof plannedMethods)[number];

/** How a business counts: the usual way for each group of animals, and how long each way takes. */
export type Habits = {
  minutes: Record<PlannedMethod, number>;
  /** The share of the substrate searched in a sample. */
  sampleShare: number;
  usual: Record<AnimalGroup, PlannedMethod>;
};

/**
 * What is assumed until a business says otherwise: round figures in the middle of what the page of a count says each
 * way takes. Common practice, no source. Animals in deep substrate and by the thousand are sampled, flies on the wing
 * are counted as they show, everything else is taken out and counted.
 */
export const firstHabits: Habits = {
  minutes: { visible: 2, sample: 15, full: 30 },
  sampleShare: 0.2,
  usual: {
    isopod: 'full',
    springtail: 'sample',
    pseudoscorpion: 'full',
    roach: 'full',
    beetle: 'full',
    millipede: 'full',
    mantid: 'full',
    fly: 'visible',
    other: 'full',
  },
};

/**
 * The count that would be made of a culture of this group: what the calculation of the next count takes, and the
 * minutes it would cost.
 *
 * @example plannedCountOf(firstHabits, 'springtail', { alpha: 3, beta: 17 })
 * // { planned: { method: 'sample', fraction: 0.2, clumping: 4 }, minutes: 15 }
 */
export function plannedCountOf(
  habits: Habits,
  group: AnimalGroup,
  detection: { alpha: number; beta: number },
): { planned: PlannedCount; minutes: number } {
  const method = habits.usual[group];
  const minutes = habits.minutes[method];
  switch (method) {
    case 'visible':
      return { planned: { method, detection }, minutes };
    case 'sample':
      return { planned: { method, fraction: habits.sampleShare, clumping: DEFAULT_CLUMPING }, minutes };
    case 'full':
      return { planned: { method, relativeSd: DEFAULT_RELATIVE_SD }, minutes };
  }
}

const minutes = typedNumber({ above: 0, max: 1440 });
const method = z.enum(plannedMethods, { error: 'Choose one.' });

export const usualField = (group: AnimalGroup) => `usual-${group}`;

/** The settings page's form: minutes for each way, the searched share, and the usual way of each group. */
export const habitsForm = z.object({
  visibleMinutes: minutes,
  sampleMinutes: minutes,
  fullMinutes: minutes,
  sampleShare: z.string({ error: 'Say how much is searched.' }).transform((text, context) => {
    const share = readSearchedShare(text);
    if (share !== null) return share;
    const message = 'Write a percentage (20 %) or parts (1 of 5), up to all of it.';
    context.addIssue({ code: 'custom', message });
    return z.NEVER;
  }),
  ...(Object.fromEntries(animalGroups.map((group) => [usualField(group), method])) as Record<
    `usual-${AnimalGroup}`,
    typeof method
  >),
});

/** What a filled-in form says. */
export function habitsOf(form: z.output<typeof habitsForm>): Habits {
  return {
    minutes: { visible: form.visibleMinutes, sample: form.sampleMinutes, full: form.fullMinutes },
    sampleShare: form.sampleShare,
    usual: Object.fromEntries(
      animalGroups.map((group) => [group, form[`usual-${group}`]]),
    ) as Habits['usual'],
  };
}
