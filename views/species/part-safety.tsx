import { safeStart } from '../../shared/splits/safe-start.ts';
import { Notice } from '../layout/notice.tsx';
import { Computed, WorkedOut } from '../layout/worked-out.tsx';
import { type Start, safetyWords } from './say.ts';
import { sayStart } from './say-worked-out.ts';

export type Safety = Start & { groupAdults: number; groupJuveniles: number; probability: number };

/** How safe a start with the group is; follows the form while it is filled in. */
export function StartSafety({ safety, locale }: { safety: Safety | null; locale?: string }) {
  const animals = safety ? safety.groupAdults + safety.groupJuveniles : 0;
  return (
    <div id="start-safety" aria-live="polite">
      {safety === null ? (
        <p class="quiet">How safe a start is stands here once the group and the sexes are filled in.</p>
      ) : (
        <Notice tone={safety.probability < safeStart ? 'needs-you' : 'plain'}>
          <Computed of="start">{safetyWords(animals, safety, safety.probability, locale)}</Computed>
          {safety.probability < safeStart && ' A larger group is safer.'}
        </Notice>
      )}
      <WorkedOut of="start" so={safety ? sayStart(animals, safety, locale) : []} />
    </div>
  );
}
