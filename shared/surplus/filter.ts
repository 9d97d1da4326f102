import { z } from 'zod';

const surplusSorts = ['spare', 'animals', 'fullness', 'count', 'ready', 'common', 'code'] as const;

/** The filters of the surplus page, as they stand in its address. Anything unknown falls back. */
export const surplusFilter = z.object({
  species: z.coerce.number().int().positive().optional().catch(undefined),
  q: z.string().trim().max(80).catch(''),
  show: z.enum(['all', 'spare', 'soon', 'held', 'stale']).catch('all'),
  sort: z.enum(surplusSorts).catch('spare'),
  /** Of one species; of all of them only the first cultures of each are shown. */
  page: z.coerce.number().int().min(1).max(10_000).catch(1),
});
export type SurplusFilter = z.infer<typeof surplusFilter>;
