import type { PlannedMethod } from '../../shared/counts/habits.ts';
import type { CountNextFilter } from '../../shared/surplus/count-next-filter.ts';
import { Empty } from '../layout/empty.tsx';
import { formatCount, formatNumber } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Pager } from '../layout/pager.tsx';
import { Progress } from '../layout/progress.tsx';
import { Shell } from '../layout/shell.tsx';
import { CountList } from './part-count-list.tsx';
import { SurplusFilters } from './part-filters.tsx';
import { GainBars } from './part-gain-bars.tsx';
import { HandOver } from './part-hand-over.tsx';
import { HowCountNext } from './part-how-count-next.tsx';
import { SurplusTabs } from './part-tabs.tsx';
import { type Countworthy, sayGroups, sayMinutes } from './say-count-next.ts';

export type CountNextRow = Countworthy & {
  code: string;
  morph: string;
  line: string | null;
  place: string | null;
  speciesId: number;
  scientificName: string;
  capacityMedian: number | null;
  method: PlannedMethod;
  minutes: number;
  /** It is on today's round. */
  askedToday: boolean;
  /** The day it was last asked for and not counted. */
  notCountedSince: string | null;
};

export type CountNextPageProps = {
  furniture: Furniture;
  filter: CountNextFilter;
  species: { id: number; scientificName: string }[];
  /** One page of the list. */
  rows: CountNextRow[];
  /** The best counts of all that fit, for the picture and the hand-over. */
  first: CountNextRow[];
  total: number;
  pageSize: number;
  /** Cultures that are sold from, and those among them that a count can free something of. */
  sold: number;
  canGain: number;
  /** So many are still being worked out. */
  missing: number;
  minutesAreFirst: boolean;
  isOwner: boolean;
};

function addressOf(filter: CountNextFilter, page: number): string {
  const entries = Object.entries({ ...filter, page }).filter(
    ([, value]) => value !== undefined && value !== '',
  );
  return `/surplus/count-next?${new URLSearchParams(entries.map(([k, v]) => [k, String(v)])).toString()}`;
}

const sortOptions = [
  { value: 'gain', label: 'Most for each minute' },
  { value: 'groups', label: 'Most groups' },
  { value: 'place', label: 'Walking order' },
  { value: 'code', label: 'Code' },
];

const showOptions = [
  { value: 'worth', label: 'Worth a count' },
  { value: 'old', label: 'Old counts' },
  { value: 'held', label: 'Held for health' },
  { value: 'all', label: 'All' },
];

/** While the rest is worked out the page asks again by itself; without a script there is a link. */
function Working({ missing, canGain, filter, locale }: CountNextPageProps & { locale?: string }) {
  if (missing === 0) return null;
  const href = addressOf(filter, filter.page);
  return (
    <div
      class="working"
      hx-get={href}
      hx-trigger="load delay:2s"
      hx-target="#count-next"
      hx-select="#count-next"
      hx-swap="outerHTML"
    >
      <Progress done={canGain - missing} total={canGain} label="cultures worked out" locale={locale} />
      <p class="quiet">
        Working out {formatNumber(missing, locale)} of {formatNumber(canGain, locale)}; the order may still
        change. <a href={href}>Look again</a>
      </p>
    </div>
  );
}

function finding(first: readonly CountNextRow[], locale?: string): string {
  const gain = first.reduce((sum, row) => sum + (row.gain?.gain ?? 0), 0);
  const minutes = first.reduce((sum, row) => sum + row.minutes, 0);
  const counts = first.length === 1 ? 'The best count' : `The best ${first.length} counts`;
  return `${counts} would free ${sayGroups(gain, locale)}, in ${sayMinutes(minutes, locale)}.`;
}

function Found(props: CountNextPageProps) {
  const { furniture, filter, rows, first, total, pageSize, missing } = props;
  const { locale } = furniture;
  const bars = first.map(({ code, gain }) => ({ code, now: gain?.now ?? 0, expected: gain?.expected ?? 0 }));
  return (
    <div id="count-next">
      <Working {...props} locale={locale} />
      {first.length > 0 && <HandOver furniture={furniture} first={first} />}
      {first.length > 0 && <GainBars bars={bars} finding={finding(first, locale)} locale={locale} />}
      {total === 0 && missing === 0 && (
        <Empty
          title={
            filter.show === 'worth'
              ? 'No count would free a group now: what can be spared is known well enough.'
              : 'No culture fits these filters.'
          }
          step={{ href: '/surplus/count-next?show=all', label: 'Show all cultures' }}
        />
      )}
      {total > 0 && <CountList rows={rows} locale={locale} />}
      {total > pageSize && (
        <Pager
          page={filter.page}
          pageSize={pageSize}
          total={total}
          href={(page) => addressOf(filter, page)}
          what="cultures"
          locale={locale}
        />
      )}
    </div>
  );
}

/** Which counts, at a few minutes each, free the most stock. */
export function CountNextPage(props: CountNextPageProps) {
  const { furniture, sold, isOwner, minutesAreFirst } = props;
  return (
    <Shell
      furniture={furniture}
      title="What to count next"
      purpose="Which counts free the most starter groups for the minutes they take."
      width="wide"
    >
      <SurplusTabs current="count-next" />
      {sold === 0 ? (
        <Empty
          title="Nothing to count for sale yet."
          step={{ href: '/cultures/new', label: 'Write down a culture' }}
        >
          <p>A culture appears here when its species is marked as sold.</p>
        </Empty>
      ) : (
        <>
          <SurplusFilters
            action="/surplus/count-next"
            searched="Code, morph, line or place"
            filter={props.filter}
            species={props.species}
            sorts={sortOptions}
            shows={showOptions}
          />
          <Found {...props} />
          <HowCountNext
            isOwner={isOwner}
            minutesAreFirst={minutesAreFirst}
            first={props.first}
            locale={furniture.locale}
          />
        </>
      )}
      {sold > 0 && <p class="quiet">{formatCount(sold, 'culture')} are sold from.</p>}
    </Shell>
  );
}
