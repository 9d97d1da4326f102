import { Notice } from '../layout/notice.tsx';
import { Computed } from '../layout/worked-out.tsx';
import { type Start, safetyWords } from './say.ts';

export type Safety = Start & { groupAdults: number; groupJuveniles: number; probability: number };

/** Below this a start fails too often to be called safe. */
const safeEnough = 0.95;

/** How safe a start with the group is; follows the form while it is filled in. */
export function StartSafety({ safety, locale }: { safety: Safety | null; locale?: string }) {
  return (
    <div id="start-safety" aria-live="polite">
      {safety === null ? (
        <p class="quiet">How safe a start is stands here once the group and the sexes are filled in.</p>
      ) : (
        <Notice tone={safety.probability < safeEnough ? 'needs-you' : 'plain'}>
          <Computed of="start">
            {safetyWords(safety.groupAdults + safety.groupJuveniles, safety, safety.probability, locale)}
          </Computed>
          {safety.probability < safeEnough && ' A larger group is safer.'}
        </Notice>
      )}
    </div>
  );
}
