import type { PlanKind } from '../../shared/splits/plan-form.ts';

export const planWords: Record<PlanKind, string> = { split: 'split', repot: 'fresh substrate' };
