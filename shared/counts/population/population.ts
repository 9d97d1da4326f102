import { CalculationError, WHOLE_INPUT } from '../../faults.ts';
import { constantIn } from './constants.ts';
import { applyEvent, startState } from './filter.ts';
import type { PopulationEvent, PopulationProfile, PopulationQuestion, PopulationStart } from './form.ts';
import { chanceOfAtLeast } from './mixture.ts';
import { type Band, bandOf, type Outlook, outlookFrom } from './outlook.ts';
import type { PopulationState } from './state.ts';

export interface PopulationSummary {
  readonly now: Band & { readonly mean: number };
  readonly growthPerWeek: Band;
  readonly capacity: Band;
  /** N / K. */
  readonly fullness: Band;
  /** The probability that none are left. */
  readonly extinct: number;
  readonly atLeast: readonly { readonly animals: number; readonly probability: number }[];
  readonly forecast: readonly (Band & { readonly date: string })[];
}

/**
 * How many animals live in a culture now, how fast they grow, how full it is, and the weeks ahead.
 *
 * Model, in weeks: log N(t+d) = log[K N e^(rd) / (K + N (e^(rd) - 1))] + e, e ~ Normal(0, processSd^2 d)
 * (Verhulst 1838, closed form) from event to event; r and K are unknown constants of the culture with
 * log-normal priors, N at the start is log-normal. `removed` and `added` shift N exactly, N < 0.5 is
 * extinct until animals are added; `die-off` multiplies N by a log-normal survival. Counts: full, log y ~
 * Normal(log N, relativeSd), none counted meaning y < 0.5; visible, beta-binomial; sample, negative
 * binomial; removal and mark-recapture, log-normal with the estimate as median and the relative standard
 * error as coefficient of variation. As counts are whole animals, half an animal of rounding (variance
 * 1/12) is added to the doubt of a log-normal one.
 *
 * Method: a point-mass filter (Bucy and Senne 1971) on a lattice of (log K, log r) that follows the
 * posterior, with the distribution of log N at each node on a grid of its own (Rao-Blackwellised: N is
 * integrated out given r and K). Deterministic. All intervals are equal-tailed with probability `level`,
 * and hold N = 0 with the probability of extinction.
 *
 * Units: animals, weeks. Errors: CalculationError where a count cannot be estimated from or contradicts
 * what went before, with the event's path.
 *
 * @example population(populationInput.parse({ start: { date: '2026-01-05', animals: 12, sdLog: 0 },
 *   profile: { growthPerWeek: { median: 0.1, sdLog: 0 }, capacity: { median: 1000, sdLog: 0 }, processSd: 0 },
 *   asOf: '2026-03-16' })).now.median // 12 animals after ten weeks at 0.1 a week under 1000: 31.96
 */
export function population(question: PopulationQuestion): PopulationSummary {
  return summarise(stateAfter(question), question);
}

/** The state after a whole history. Errors: CalculationError with the event's path. */
export function stateAfter(history: {
  start: PopulationStart;
  profile: PopulationProfile;
  events: readonly PopulationEvent[];
}): PopulationState {
  let state = startState(history.start, history.profile);
  history.events.forEach((event, i) => {
    try {
      state = applyEvent(state, event);
    } catch (error) {
      if (!(error instanceof CalculationError)) throw error;
      const field = error.path === WHOLE_INPUT ? '' : `.${error.path}`;
      throw new CalculationError(error.message, `events[${i}]${field}`);
    }
  });
  return state;
}

export interface SummaryQuestion {
  readonly asOf: string;
  readonly horizonWeeks: number;
  readonly level: number;
  readonly atLeast: readonly number[];
}

/** The output of `population` for a state; see there. Errors: CalculationError where asOf is before its last event. */
export function summarise(state: PopulationState, question: SummaryQuestion): PopulationSummary {
  return summaryOf(outlookFrom(state, question.asOf, question.horizonWeeks), question);
}

/** The same from distributions already worked out. */
export function summaryOf(
  outlook: Outlook,
  { level, atLeast }: Pick<SummaryQuestion, 'level' | 'atLeast'>,
): PopulationSummary {
  const { now, fullness, weeks, constants } = outlook;
  return {
    now: { mean: now.mean, ...bandOf(now, level) },
    growthPerWeek: constantIn(constants, { r: 1, k: 0 }, level),
    capacity: constantIn(constants, { r: 0, k: 1 }, level),
    fullness: bandOf(fullness, level),
    extinct: now.nil,
    atLeast: atLeast.map((animals) => ({ animals, probability: chanceOfAtLeast(now, animals) })),
    forecast: weeks.map(({ date, number }) => ({ date, ...bandOf(number, level) })),
  };
}
