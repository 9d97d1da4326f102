import { formatDay } from '../layout/format.ts';
import { WorkedOut } from '../layout/worked-out.tsx';

export type ExpectedData = {
  stage: 'hatch' | 'adult';
  startOn: string;
  from: string | null;
  about: string | null;
  to: string | null;
  isMeasured: boolean;
  source: string;
};

const words = {
  hatch: { what: 'Young', since: 'eggs or brood were first noted', act: 'Look for young' },
  adult: { what: 'First adults', since: 'the culture was started', act: 'Expect adults' },
} as const;

/** When young or adults are expected, as ranges; nothing where nothing is known. */
export function Expected({
  expected,
  today,
  locale,
}: {
  expected: ExpectedData[];
  today: string;
  locale?: string;
}) {
  if (expected.length === 0) return null;
  const day = (iso: string) => formatDay(iso, locale, 'month-day');
  return (
    <section aria-labelledby="expected-title">
      <h2 id="expected-title">Young and adults</h2>
      {expected.map(({ stage, startOn, from, about, to, isMeasured, source }) => {
        const { what, since, act } = words[stage];
        const range = from && to ? ` (${day(from)} to ${day(to)})` : '';
        return (
          <p key={stage}>
            <strong data-computed="development">
              {about === null ? `${what}: too cold to foretell` : `${what} about ${day(about)}${range}`}
              {from !== null && from <= today && `. ${act} now`}
            </strong>
            .{' '}
            <span class="quiet">
              Counted in warmth since {day(startOn)}, when {since},{' '}
              {isMeasured ? 'as read in its room' : 'as in a living room: its own room was not measured'}.
              Times: {source}.
            </span>
          </p>
        );
      })}
      <WorkedOut of="development" />
    </section>
  );
}
