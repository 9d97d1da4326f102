import { z } from 'zod';
import { typedNumber } from '../settings/typed-number.ts';

/** What was in the box while it cooled, and the log as pasted text; a file may come in its place. */
export const logForm = z.object({
  mass: typedNumber({ above: 0, max: 100_000 }),
  heatCapacity: typedNumber({ above: 0, max: 10 }),
  log: z.string().max(64_000, 'Too long to paste: bring it as a file.').optional(),
});
