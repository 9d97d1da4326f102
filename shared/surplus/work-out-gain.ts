import type { PlannedCount } from '../counts/form.ts';
import { startState } from '../counts/population/filter.ts';
import { follow } from '../counts/population/outlook.ts';
import { decodeState } from '../counts/population/store.ts';
import { CalculationError } from '../faults.ts';
import { rankCounts } from './count-next.ts';
import type { SurplusSettings } from './form.ts';
import type { WorkOutInput } from './work-out.ts';

/** A culture as the records hold it, and the count that would be made of it: plain data that can travel to a thread. */
export type GainInput = Pick<WorkOutInput, 'basis' | 'from' | 'events' | 'asOf' | 'level'> & {
  settings: SurplusSettings;
  planned: PlannedCount;
  /** Nothing of it is sold before it is counted. */
  held: boolean;
};

export type Gain = { groupsNow: number; expectedGroups: number; fault: string | null };

/**
 * Answers: how many groups a culture can spare now, and how many can be expected once it is counted on `asOf`; see
 * `rankCounts`. Minutes do not matter here, so that what comes out can be kept when they change.
 * Errors: none for data that contradict themselves; they come back as `fault` in plain words, with both numbers 0.
 */
export function workOutGain(input: GainInput): Gain {
  const { basis, from, events, asOf, settings, planned, held, level } = input;
  try {
    let state = from ? decodeState(from.state) : startState(basis.start, basis.profile);
    for (const { event } of events) state = follow(state, event, level).state;
    const [ranked] = rankCounts([{ code: '', state, settings, asOf, planned, minutes: 1, held }]);
    return { groupsNow: ranked!.groupsNow, expectedGroups: ranked!.expectedGroups, fault: null };
  } catch (error) {
    if (!(error instanceof CalculationError)) throw error;
    return { groupsNow: 0, expectedGroups: 0, fault: error.message };
  }
}
