import type { CountEstimate } from './estimate.ts';
import type { Count } from './form.ts';
import { fullEstimate } from './full.ts';
import { markRecaptureEstimate } from './mark-recapture.ts';
import { removalEstimate } from './removal.ts';
import { sampleEstimate } from './sample.ts';
import { visibleEstimate } from './visible.ts';

export type { CountEstimate } from './estimate.ts';

/**
 * Head count from what could be seen: how many animals a count implies, with its interval. Each method's
 * model, estimator and interval are stated at its own function. Parse with `countInput` first, which fills
 * in the defaults.
 *
 * Errors: CalculationError where the estimator fails on the data.
 *
 * @example countEstimate(countInput.parse({ method: 'full', counted: 84 }))
 * // estimate 84, standardError 4.2, lower 77.37, upper 91.20, level 0.9, method 'full'
 */
export function countEstimate(count: Count): CountEstimate {
  switch (count.method) {
    case 'full':
      return fullEstimate(count);
    case 'visible':
      return visibleEstimate(count);
    case 'sample':
      return sampleEstimate(count);
    case 'removal':
      return removalEstimate(count);
    case 'mark-recapture':
      return markRecaptureEstimate(count);
  }
}
