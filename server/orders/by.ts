import type { StaffCall } from '../plumbing/call.ts';
import type { By } from './queries.ts';

/** Who does it, and when: one instant for everything that one request writes. */
export const byOf = (call: StaffCall): By => ({
  personId: call.who.id,
  now: call.clock.now(),
  today: call.today,
});
