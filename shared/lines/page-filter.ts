import { z } from 'zod';

/** How many steps the graph goes from the culture in its middle, at most. */
export const mostSteps = 9;

const steps = (otherwise: number) => z.coerce.number().int().min(0).max(mostSteps).catch(otherwise);

/** What the address of the graph asks for. Anything unknown falls back, so that old links work. */
export const graphFilter = z.object({
  species: z.string().optional().catch(undefined),
  line: z.string().optional().catch(undefined),
  /** A culture in the middle, with those it came from and those that came from it. */
  focus: z.string().trim().max(24).catch(''),
  up: steps(2),
  down: steps(3),
  skip: z.coerce.number().int().min(0).max(100_000).catch(0),
  page: z.coerce.number().int().min(1).max(100_000).catch(1),
});
export type GraphFilter = z.infer<typeof graphFilter>;
