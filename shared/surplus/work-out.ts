import { keptStates } from '../counts/checkpoints.ts';
import { startState } from '../counts/population/filter.ts';
import type { PopulationEvent, PopulationProfile, PopulationStart } from '../counts/population/form.ts';
import { follow } from '../counts/population/outlook.ts';
import type { PopulationState } from '../counts/population/state.ts';
import { decodeState, encodeState } from '../counts/population/store.ts';
import { CalculationError } from '../faults.ts';
import type { SurplusSettings } from '../species/profile.ts';
import { type SurplusOutlook, surplusFrom } from './surplus.ts';

export type DiaryEvent = PopulationEvent;

export type WorkOutInput = {
  basis: { start: PopulationStart; profile: PopulationProfile };
  /** A stored state and the number of events it stands after; null starts at the founding. */
  from: { state: Uint8Array; events: number } | null;
  /** The events after it, in order, each with its place in the diary. */
  events: readonly { onDay: string; position: number; event: DiaryEvent }[];
  surplus: SurplusSettings & { promised: number };
  asOf: string;
  horizonWeeks: number;
  level: number;
};

type Band = { median: number; lower: number; upper: number };
export type WorkedOut = {
  /** States worth keeping among the new ones. */
  states: { onDay: string; position: number; events: number; state: Uint8Array }[];
  /** What was believed just before and just after each new event. */
  points: { onDay: string; position: number; before: Band; after: Band }[];
} & ({ fault: null; result: SurplusOutlook } | { fault: string; result: null });

/**
 * Answers: what is known of one culture on a day, from a stored state and the events since. The same numbers come
 * out whatever state it starts from, because a state is rounded to its stored precision after every event.
 * Errors: none for data that contradict themselves; they come back as `fault` in plain words.
 */
export function workOut(input: WorkOutInput): WorkedOut {
  const { basis, from, events, level } = input;
  let state = from ? decodeState(from.state) : startState(basis.start, basis.profile);
  const after = from?.events ?? 0;
  const reached: { onDay: string; position: number; events: number; state: PopulationState }[] = [];
  const points: WorkedOut['points'] = [];
  const finish = () => {
    const keep = new Set(keptStates([...reached.map((r) => r.events), ...(from ? [after] : [])]));
    return reached.filter((r) => keep.has(r.events)).map((r) => ({ ...r, state: encodeState(r.state) }));
  };
  try {
    for (const [i, { onDay, position, event }] of events.entries()) {
      const step = follow(state, event, level);
      state = step.state;
      reached.push({ onDay, position, events: after + i + 1, state });
      points.push({ onDay, position, before: step.before, after: step.after });
    }
    const { asOf, horizonWeeks } = input;
    const result = surplusFrom(state, { ...input.surplus, asOf, horizonWeeks, level });
    return { states: reached.length > 0 ? finish() : [], points, fault: null, result };
  } catch (error) {
    if (!(error instanceof CalculationError)) throw error;
    const contradicted = events[reached.length];
    const fault = contradicted ? `What is written on ${contradicted.onDay} ${error.message}` : error.message;
    return { states: reached.length > 0 ? finish() : [], points, fault, result: null };
  }
}
