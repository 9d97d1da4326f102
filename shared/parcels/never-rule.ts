import { TOUCH_C } from './inside.ts';
import type { Load } from './loads.ts';
import type { ScenarioCurve } from './option-curves.ts';
import type { ParcelLimits } from './parcel-form.ts';

/** What the reason of a refusal that nobody may set aside begins with. */
const neverWords = (effect: 'warms' | 'cools'): string =>
  `never a ${effect === 'warms' ? 'heat' : 'cold'} pack here`;

/**
 * Whether a pack must never go into a parcel: one that warms where any scenario is above safeHighC, one that cools where
 * any is below safeLowC. Such a parcel is not the owner's to send, whatever else is wrong with it. Null where it may be.
 *
 * @example // a heat pack with 31 degrees in the warmer scenario against a safe high of 28: 'never a heat pack here'
 */
export function neverRule(
  { effect }: Pick<Load, 'effect'>,
  curves: readonly Pick<ScenarioCurve, 'lowestC' | 'highestC'>[],
  { safeLowC, safeHighC }: Pick<ParcelLimits, 'safeLowC' | 'safeHighC'>,
): string | null {
  const isTooWarm = curves.some(({ highestC }) => highestC > safeHighC + TOUCH_C);
  const isTooCold = curves.some(({ lowestC }) => lowestC < safeLowC - TOUCH_C);
  if (effect === 'warms' && isTooWarm) return neverWords('warms');
  if (effect === 'cools' && isTooCold) return neverWords('cools');
  return null;
}
