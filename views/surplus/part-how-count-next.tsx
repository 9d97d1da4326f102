import { WorkedOut } from '../layout/worked-out.tsx';

/** Where the numbers of the list of counts come from. */
export function HowCountNext({ isOwner, minutesAreFirst }: { isOwner: boolean; minutesAreFirst: boolean }) {
  return (
    <>
      {minutesAreFirst && (
        <p class="quiet">
          The minutes are ours to begin with (common practice, no source).{' '}
          {isOwner && <a href="/settings/counting">Put in yours</a>}
        </p>
      )}
      <WorkedOut of={['count-next', 'population']}>
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
