import { formatNumber } from '../layout/format.ts';
import { WorkedOut } from '../layout/worked-out.tsx';
import { type Countworthy, formatExpected } from './say-count-next.ts';

type Counted = Pick<Countworthy, 'gain'> & { code: string; minutes: number };
type HowCountNextProps = {
  isOwner: boolean;
  minutesAreFirst: boolean;
  /** The best counts. */
  first: readonly Counted[];
  locale?: string;
};

/** What one count would free, step by step. */
function sayGain({ code, gain, minutes }: Counted, locale?: string): string | null {
  if (!gain) return null;
  const expected = (groups: number) => formatExpected(groups, locale);
  return `${code}: ${expected(gain.expected)} groups expected − ${formatNumber(gain.now, locale)} now = ${expected(gain.gain)}; ÷ ${formatNumber(minutes, locale, 1)} minutes = ${formatNumber(gain.perMinute, locale, 3)} a minute.`;
}

/** Where the numbers of the list of counts come from. */
export function HowCountNext({ isOwner, minutesAreFirst, first, locale }: HowCountNextProps) {
  return (
    <>
      {minutesAreFirst && (
        <p class="quiet">
          The minutes are ours to begin with (common practice, no source).{' '}
          {isOwner && <a href="/settings/counting">Put in yours</a>}
        </p>
      )}
      <WorkedOut of={['count-next', 'population']} so={first.slice(0, 5).map((row) => sayGain(row, locale))}>
        <p>
          A culture spares only what is there with the certainty set for its species, so doubt costs groups.
          For every number a count may find, weighed by how likely it is, it is worked out what could be
          spared after it; the mean of that, less what is spare now, is the gain (preposterior analysis:
          Raiffa and Schlaifer 1961). A count that comes out low may also take a group away: the mean includes
          it.
        </p>
        <p>
          The list is ordered by the gain for each minute, with the way of counting that is usual for the
          animals and the minutes it takes. {isOwner && <a href="/settings/counting">Change both</a>} After a
          die-off nothing is sold until the animals are counted: there everything the count finds is gain.
        </p>
      </WorkedOut>
    </>
  );
}
