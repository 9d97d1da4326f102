import type { PlannedCount } from '../counts/form.ts';
import { stateAfter } from '../counts/population/population.ts';
import type { PopulationState } from '../counts/population/state.ts';
import { decodeState } from '../counts/population/store.ts';
import { CalculationError, WHOLE_INPUT } from '../faults.ts';
import { compareText } from '../lines/founding-order.ts';
import { foreseenGroups } from './foreseen-groups.ts';
import type { CountNextQuestion, SurplusSettings } from './form.ts';

/** A culture that could be counted. */
export interface CountCandidate {
  readonly code: string;
  /** What is known of it; stored bytes are read one culture at a time. */
  readonly state: PopulationState | Uint8Array;
  readonly settings: SurplusSettings;
  readonly asOf: string;
  readonly planned: PlannedCount;
  readonly minutes: number;
  /** Nothing of it is sold before it is counted (after a die-off): it has no groups now, whatever its number. */
  readonly held?: boolean;
}

export interface RankedCount {
  readonly code: string;
  readonly groupsNow: number;
  readonly expectedGroups: number;
  /** expectedGroups - groupsNow. */
  readonly gain: number;
  readonly gainPerMinute: number;
  readonly minutes: number;
}

/**
 * Which count frees the most stock: cultures by the gain in spare groups per minute that can be expected if
 * they are counted on `asOf`.
 *
 * gain = the mean of `surplus`'s spareGroups after the count, over all that the count may find under the model
 * (preposterior analysis: Raiffa and Schlaifer 1961), minus spareGroups now; see `foreseenGroups`. It is worth
 * nothing to count what is known well, or what has too few animals whatever the count says; most where the
 * number is likely high and the doubt alone holds it back.
 *
 * A gain can be a little below 0: spareGroups follows a quantile, not a mean, and whole groups. Where the doubt
 * is small already, or where 1 - confidence lies above the middle, what a count takes away when it comes out
 * low can outweigh what it adds when it comes out high. That is meant, and not cut off.
 *
 * Sorted by gain per minute, then gain, then code. Units: groups, minutes of work. Errors: CalculationError as
 * `population`, with the culture's path.
 *
 * @example countNext(countNextInput.parse({ cultures: [{ code: 'A', minutes: 5, asOf: '2026-01-05',
 *   start: { date: '2026-01-05', animals: 60, sdLog: 0.6 }, profile: {
 *   growthPerWeek: { median: 0.1, sdLog: 0 }, capacity: { median: 80, sdLog: 0 }, processSd: 0 },
 *   reserve: { animals: 30, shareOfCapacity: 0 }, promised: 0, confidence: 0.9,
 *   group: { adults: 0, juveniles: 10 }, adultShare: { alpha: 1, beta: 1 } }] })).ranked[0]
 * // no group is spare at a lower end of 28, but 3.40 on average once it is counted: 0.68 a minute
 */
export function countNext({ cultures, method }: CountNextQuestion): { ranked: RankedCount[] } {
  const ranked = cultures.map((culture, i) => {
    const { code, asOf, minutes } = culture;
    try {
      return gainOf({ code, state: stateAfter(culture), settings: culture, asOf, planned: method, minutes });
    } catch (error) {
      if (!(error instanceof CalculationError)) throw error;
      const field = error.path === WHOLE_INPUT ? '' : `.${error.path}`;
      throw new CalculationError(error.message, `cultures[${i}]${field}`);
    }
  });
  return { ranked: ranked.sort(byGain) };
}

/**
 * The same for stored states, each culture with the count that would be made of it. Takes some ten
 * milliseconds a culture: many belong into a thread.
 *
 * Errors: CalculationError (path asOf) where the day is before a state's last event; UnreadableStateError.
 */
export function rankCounts(candidates: readonly CountCandidate[]): RankedCount[] {
  return candidates.map(gainOf).sort(byGain);
}

function gainOf({ code, state, settings, asOf, planned, minutes, held }: CountCandidate): RankedCount {
  const known = state instanceof Uint8Array ? decodeState(state) : state;
  const { groupsNow: spare, expectedGroups } = foreseenGroups(known, settings, asOf, planned);
  const groupsNow = held ? 0 : spare;
  const gain = expectedGroups - groupsNow;
  return { code, groupsNow, expectedGroups, gain, gainPerMinute: gain / minutes, minutes };
}

/** Most gain per minute first, then most gain, then by code. */
export function byGain(
  a: Pick<RankedCount, 'code' | 'gain' | 'gainPerMinute'>,
  b: Pick<RankedCount, 'code' | 'gain' | 'gainPerMinute'>,
): number {
  return b.gainPerMinute - a.gainPerMinute || b.gain - a.gain || compareText(a.code, b.code);
}
