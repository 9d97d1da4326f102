import type { Speaker } from '../words/speaker.ts';
import type { WorkingName } from '../workings/registry.ts';

type HowKnownProps = {
  speaker: Speaker;
  /** The calculations that the page's numbers come from. */
  of: readonly WorkingName[];
  /** Whence each number is known, a line each; nothing of how the business is run. */
  lines: readonly (string | null | false)[];
};

/** Whence customers' numbers are known, for whoever asks; opens without any script. */
export function HowKnown({ speaker, of, lines }: HowKnownProps) {
  const said = lines.filter((line): line is string => !!line);
  if (said.length === 0) return null;
  return (
    <details class="worked-out" data-explains={of.join(' ')}>
      <summary>{speaker.say('known.ask')}</summary>
      <div class="worked-out-words">
        <ul class="worked-out-so">
          {said.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      </div>
    </details>
  );
}
