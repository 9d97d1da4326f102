import { z } from 'zod';
import { typedNumber } from '../settings/typed-number.ts';

/** Long enough to look a bad week up again. Common practice, no source. */
export const firstKeptDays = 90;
export const LEAST_KEPT_DAYS = 30;
export const MOST_KEPT_DAYS = 3_650;
/** So long after a change of the days nothing goes, so that a slip can be mended. */
export const GRACE_MS = 86_400_000;

export const keepingForm = z.object({
  days: typedNumber({ min: LEAST_KEPT_DAYS, max: MOST_KEPT_DAYS, whole: true }),
});
