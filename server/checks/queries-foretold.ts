import type { StaffCall } from '../plumbing/call.ts';
import { todaysRound } from './todays-round.ts';

const looks = ['young', 'adults'] as const;

/** What was foretold and is looked for today, by the code of each culture that has some. */
export function lookedForToday(call: StaffCall): Map<string, string[]> {
  const found = new Map<string, string[]>();
  for (const { row } of todaysRound(call).all) {
    const own = looks.filter((look) => row.open.some(({ what }) => what === look));
    if (own.length > 0) found.set(row.code, own);
  }
  return found;
}
