import type { DueKind } from '../../shared/checks/care-due.ts';
import type { MapRack, MapShelf } from '../../shared/checks/rack-map.ts';
import { cultureHref } from '../cultures/page-list.tsx';
import { healthWords } from '../cultures/say.ts';
import { LinkButton } from '../layout/button.tsx';
import { classes } from '../layout/classes.ts';
import { notTranslated } from '../layout/code.tsx';
import { Empty } from '../layout/empty.tsx';
import { formatCount } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Mark } from '../layout/mark.tsx';
import { Day } from '../layout/number.tsx';
import { PaperFoot } from '../layout/paper-foot.tsx';
import { Shell } from '../layout/shell.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';
import type { OpenWork } from './part-round-row.tsx';
import { sayRound } from './say-worked-out.ts';

/** More cultures are shown rack by rack. */
export const mostOnMap = 400;

export type MapCulture = {
  code: string;
  scientificName: string;
  health: string;
  inQuarantine: boolean;
  open: readonly OpenWork[];
  isDone: boolean;
};

export type MapPageProps = {
  furniture: Furniture;
  today: string;
  racks: readonly MapRack<MapCulture>[];
  /** Those that are drawn. */
  shown: readonly MapRack<MapCulture>[];
  nowhere: readonly MapCulture[];
  chosenId: number | null;
  /** All of them fit on one page. */
  isWhole: boolean;
};

const shortDue: Record<DueKind, string> = {
  check: 'look',
  water: 'water',
  feed: 'food',
  fruit: 'fruit',
  young: 'young',
  adults: 'adults',
  substrate: 'substrate',
  retire: 'retire',
  count: 'count',
};

const isTrouble = ({ health, inQuarantine }: MapCulture) =>
  inQuarantine || health === 'mites' || health === 'die-off' || health === 'quarantine';

function state(culture: MapCulture): 'trouble' | 'due' | 'done' | 'quiet' {
  if (isTrouble(culture)) return 'trouble';
  if (culture.open.length > 0) return 'due';
  return culture.isDone ? 'done' : 'quiet';
}

function words(culture: MapCulture): string {
  const due = culture.open.map(({ what }) => shortDue[what]);
  const trouble = culture.inQuarantine ? 'quarantine' : (healthWords[culture.health] ?? culture.health);
  return (
    [...(isTrouble(culture) ? [trouble] : []), ...due].join(', ') || (culture.isDone ? 'done' : 'nothing due')
  );
}

const markOf = { trouble: 'harm', due: 'needs-you', done: 'done', quiet: null } as const;

function Spot({ position, culture }: MapShelf<MapCulture>['spots'][number]) {
  if (!culture)
    return (
      <li class="spot spot-free">
        <span class="spot-position">{position}</span>
        <span class="spot-words">free</span>
      </li>
    );
  const is = state(culture);
  const mark = markOf[is];
  return (
    <li class={classes('spot', `spot-${is}`)}>
      <a href={cultureHref(culture.code)} title={culture.scientificName}>
        <span class="spot-code" {...notTranslated}>
          {mark && <Mark kind={mark} />} {culture.code}
        </span>
        <span class="spot-words" data-computed={culture.open.length > 0 ? 'due' : undefined}>
          {words(culture)}
        </span>
        {position !== null && <span class="spot-position">{position}</span>}
      </a>
    </li>
  );
}

function Shelf({ shelf }: { shelf: MapShelf<MapCulture> }) {
  return (
    <div class="map-shelf">
      {shelf.name !== '' && <h3>{shelf.name}</h3>}
      {shelf.spots.length === 0 ? (
        <p class="quiet">Nothing stands here.</p>
      ) : (
        <ol class="spots">
          {shelf.spots.map((spot, i) => (
            <Spot key={spot.culture?.code ?? `free-${i}`} {...spot} />
          ))}
        </ol>
      )}
    </div>
  );
}

function tally(rack: MapRack<MapCulture>): string {
  const all = rack.shelves.flatMap(({ spots }) => spots.flatMap(({ culture }) => culture ?? []));
  const of = (is: ReturnType<typeof state>) => all.filter((culture) => state(culture) === is).length;
  const [due, trouble, done] = [of('due'), of('trouble'), of('done')];
  return [
    formatCount(all.length, 'culture'),
    due > 0 && `${due} due`,
    done > 0 && `${done} done`,
    trouble > 0 && `${trouble} in trouble`,
  ]
    .filter(Boolean)
    .join(', ');
}

function Racks({ racks, chosenId, isWhole }: MapPageProps) {
  if (racks.length < 2) return null;
  return (
    <nav class="map-racks" aria-label="Racks">
      <ul>
        {isWhole && (
          <li>
            <a href="/round/map" aria-current={chosenId === null ? 'page' : undefined}>
              All of them
            </a>
          </li>
        )}
        {racks.map((rack) => (
          <li key={rack.id}>
            <a href={`/round/map?rack=${rack.id}`} aria-current={rack.id === chosenId ? 'page' : undefined}>
              {rack.name}
            </a>
            <span class="under">{tally(rack)}</span>
          </li>
        ))}
      </ul>
    </nav>
  );
}

const Key = () => (
  <p class="map-key quiet">
    <Mark kind="needs-you" /> due today, <Mark kind="done" /> done today, <Mark kind="harm" /> in trouble;
    dashed: free. The number is the position on the shelf.
  </p>
);

function HowDue({ furniture, today, shown, nowhere }: MapPageProps) {
  const standing = shown.flatMap(({ shelves }) =>
    shelves.flatMap(({ spots }) => spots.flatMap(({ culture }) => culture ?? [])),
  );
  return (
    <WorkedOut
      of={['due', 'drying', 'development']}
      so={sayRound([...standing, ...nowhere], { today, locale: furniture.locale })}
    />
  );
}

/** The racks as they stand, with what is due and what is in trouble. */
export function MapPage(props: MapPageProps) {
  const { furniture, today, racks, shown, nowhere } = props;
  return (
    <Shell
      furniture={furniture}
      title="The racks today"
      purpose={
        <>
          Where everything stands, and what it wants on{' '}
          <Day iso={today} form="weekday" locale={furniture.locale} />.
        </>
      }
      width="wide"
      breadcrumbs={[{ href: '/round', label: 'Round' }]}
      actions={<LinkButton href="/round">The round as a list</LinkButton>}
    >
      {racks.length === 0 ? (
        <Empty
          title="No racks yet. Write down rooms, racks and shelves, and where each culture stands."
          step={{ href: '/places', label: 'Write down places' }}
        />
      ) : (
        <>
          <Racks {...props} />
          <Key />
          {shown.map((rack) => (
            <section key={rack.id} class="map-rack" aria-labelledby={`rack-${rack.id}`}>
              <h2 id={`rack-${rack.id}`}>{rack.name}</h2>
              {rack.shelves.map((shelf) => (
                <Shelf key={shelf.id} shelf={shelf} />
              ))}
            </section>
          ))}
        </>
      )}
      {nowhere.length > 0 && (
        <section class="map-rack" aria-labelledby="rack-none">
          <h2 id="rack-none">No place yet</h2>
          <ol class="spots">
            {nowhere.map((culture) => (
              <Spot key={culture.code} position={null} culture={culture} />
            ))}
          </ol>
        </section>
      )}
      {(shown.length > 0 || nowhere.length > 0) && (
        <>
          <HowDue {...props} />
          <PaperFoot furniture={furniture}>
            Due: the day each was last done, and what its species wants.
          </PaperFoot>
        </>
      )}
    </Shell>
  );
}
