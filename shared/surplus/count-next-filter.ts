import { z } from 'zod';

const countNextSorts = ['gain', 'groups', 'place', 'code'] as const;

/** The filters of the list of counts, as they stand in its address. Anything unknown falls back. */
export const countNextFilter = z.object({
  species: z.coerce.number().int().positive().optional().catch(undefined),
  q: z.string().trim().max(80).catch(''),
  show: z.enum(['worth', 'old', 'held', 'all']).catch('worth'),
  sort: z.enum(countNextSorts).catch('gain'),
  page: z.coerce.number().int().min(1).max(1_000).catch(1),
});
export type CountNextFilter = z.infer<typeof countNextFilter>;

/** A count that frees less than this, in groups, is not worth anybody's time. Ours; no source. */
export const worthCounting = 0.1;
