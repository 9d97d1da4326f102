import { formatMoment } from '../../views/layout/format.ts';
import type { Call } from '../plumbing/call.ts';

/** What whoever tried too often is told; a minute later than it is, since moments are shown to the minute. */
export function againFrom({ business }: Pick<Call, 'business'>, againAt: number): string {
  const at = formatMoment(againAt + 60_000, business.timeZone, business.locale);
  return `Too many wrong tries. You can try again from ${at} on.`;
}
