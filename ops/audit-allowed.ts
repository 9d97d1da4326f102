import type { Allowed } from './audit-report.ts';

/** Advisories that do not touch this service, each with the reason and the day to look again. None so far. */
export const allowedAdvisories: readonly Allowed[] = [];
