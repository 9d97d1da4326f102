import { z } from 'zod';

export const surplusSorts = ['spare', 'animals', 'fullness', 'count', 'ready', 'common', 'code'] as const;

/** The filters of the surplus page, as they stand in its address. Anything unknown falls back. */
export const surplusFilter = z.object({
  species: z.coerce.number().int().positive().optional().catch(undefined),
  q: z.string().trim().max(80).catch(''),
  show: z.enum(['all', 'spare', 'soon', 'held', 'stale']).catch('all'),
  sort: z.enum(surplusSorts).catch('spare'),
});
export type SurplusFilter = z.infer<typeof surplusFilter>;
