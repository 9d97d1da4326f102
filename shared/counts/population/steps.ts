import { toEpochDay } from '../../days.ts';
import { CalculationError } from '../../faults.ts';
import type { CountEstimate } from '../estimate.ts';
import { markRecaptureEstimate } from '../mark-recapture.ts';
import { removalEstimate } from '../removal.ts';
import type { PopulationEvent } from './form.ts';

export const STEP_KINDS = ['removed', 'added', 'die-off', 'log-normal', 'none', 'visible', 'sample'] as const;
export type StepKind = (typeof STEP_KINDS)[number];

/**
 * An event as the filter takes it, in numbers only:
 * removed and added: animals; die-off: log of the median survival, sdLog; log-normal: log of the number
 * counted, sd; none (a full count of nothing): relative sd; visible: seen, alpha, beta; sample: counted,
 * fraction, clumping.
 */
export interface Step {
  readonly day: number;
  readonly kind: StepKind;
  readonly values: readonly [number, number, number];
}

/** A count is made in whole animals, so it is off by up to half an animal: variance 1/12. */
const ROUNDING_VARIANCE = 1 / 12;

export function isCount(step: Step): boolean {
  return step.kind !== 'removed' && step.kind !== 'added' && step.kind !== 'die-off';
}

/**
 * An event in the filter's own terms.
 *
 * Errors: CalculationError where a removal or mark-recapture count cannot be estimated from.
 */
export function stepOf(event: PopulationEvent): Step {
  const day = toEpochDay(event.date);
  switch (event.kind) {
    case 'removed':
    case 'added':
      return { day, kind: event.kind, values: [event.animals, 0, 0] };
    case 'die-off':
      return { day, kind: 'die-off', values: [Math.log(event.survival.median), event.survival.sdLog, 0] };
    case 'count':
      return countStep(day, event);
  }
}

function countStep(day: number, count: Extract<PopulationEvent, { kind: 'count' }>): Step {
  switch (count.method) {
    case 'full':
      if (count.counted === 0) return { day, kind: 'none', values: [count.relativeSd, 0, 0] };
      return logNormalStep(day, count.counted, count.relativeSd ** 2);
    case 'visible':
      return { day, kind: 'visible', values: [count.counted, count.detection.alpha, count.detection.beta] };
    case 'sample':
      return { day, kind: 'sample', values: [count.counted, count.fraction, count.clumping] };
    case 'removal':
      return estimateStep(day, removalEstimate(count));
    case 'mark-recapture':
      return estimateStep(day, markRecaptureEstimate(count));
  }
}

/** A log-normal with the estimate as its median and the relative standard error as its coefficient of variation. */
function estimateStep(day: number, { estimate, standardError }: CountEstimate): Step {
  if (!(estimate > 0) || standardError === null || !Number.isFinite(standardError)) {
    throw new CalculationError('has no standard error on these data, so it cannot be weighed', 'method');
  }
  return logNormalStep(day, estimate, Math.log1p((standardError / estimate) ** 2));
}

function logNormalStep(day: number, counted: number, variance: number): Step {
  const sd = Math.sqrt(variance + ROUNDING_VARIANCE / counted ** 2);
  return { day, kind: 'log-normal', values: [Math.log(counted), sd, 0] };
}
