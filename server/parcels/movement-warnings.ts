import { reasonWords } from '../../shared/movement/say.ts';
import { movementOfOrders } from '../movement/queries.ts';
import type { StaffCall } from '../plumbing/call.ts';

/** What the owner's rules say against some parcels, or warn of, by the order's id: a sentence each. */
export function movementWarnings(call: StaffCall, orders: readonly { id: number }[]): Map<number, string[]> {
  const ids = orders.map(({ id }) => id);
  const words = new Map<number, string[]>();
  for (const [id, { blocks, warnings }] of movementOfOrders(call.db, ids, call.today)) {
    const said = [
      ...blocks.map(({ rule, reason }) => `${rule.name}: it may not go. ${reasonWords[reason]}`),
      ...warnings.map(({ rule, reason }) => `${rule.name}: ${reasonWords[reason]}`),
    ];
    if (said.length > 0) words.set(id, [...new Set(said)]);
  }
  return words;
}
