import { type Step, StepList } from '../layout/worked-out.tsx';
import type { Speaker } from '../words/speaker.ts';
import type { WorkingName } from '../workings/registry.ts';

type HowKnownProps = {
  speaker: Speaker;
  /** The calculations that the page's numbers come from. */
  of: readonly WorkingName[];
  /** Whence each number is known, a line each; nothing of how the business is run. */
  lines: readonly (Step | null | false)[];
};

/** Whence customers' numbers are known, for whoever asks; opens without any script. */
export function HowKnown({ speaker, of, lines }: HowKnownProps) {
  if (!lines.some(Boolean)) return null;
  return (
    <details class="worked-out" data-explains={of.join(' ')}>
      <summary>{speaker.say('known.ask')}</summary>
      <div class="worked-out-words">
        <StepList lines={lines} />
      </div>
    </details>
  );
}
