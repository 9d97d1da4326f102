import type { Begun } from '../../shared/settings/first-steps.ts';
import { type AirSaid, type AirWarningData, AirWarnings } from '../climate/part-air-warning.tsx';
import { sayFeeders } from '../feeders/say-worked-out.ts';
import { Actions, LinkButton } from '../layout/button.tsx';
import { Empty } from '../layout/empty.tsx';
import { formatSpan } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Day } from '../layout/number.tsx';
import { Shell } from '../layout/shell.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';
import { FirstSteps } from '../settings/part-first-steps.tsx';
import { NeedsOwner, NotCounted, type NotCountedData, Waiting, type WaitingData } from './part-round-end.tsx';
import { type Parts, PartsFoot, PartsHead } from './part-round-parts.tsx';
import { ManyBar, type PlaceRows, RoundPlace } from './part-round-place.tsx';
import { RoundProgress } from './part-round-progress.tsx';
import type { RoundRowData } from './part-round-row.tsx';
import { type StartData, Starts } from './part-starts.tsx';
import { sayRound } from './say-worked-out.ts';

export type RoundPageProps = {
  furniture: Furniture;
  /** What the owner's first steps are read from; null where they are not shown. */
  begun: Begun | null;
  today: string;
  /** How far the whole round is. */
  done: number;
  total: number;
  /** What is due today or done today, by place and in walking order; of a round in parts what stands in this one. */
  places: PlaceRows[];
  /** Null where the whole round stands on one page. */
  parts: Parts | null;
  /** Places that are too warm or too cold: by the key of the place where that is said, and where nothing is due. */
  air: AirSaid & { elsewhere: AirWarningData[]; atPlace: ReadonlyMap<string, AirWarningData[]> };
  /** Feeder cultures to start this week. */
  starts: StartData[];
  kept: number;
  /** Days until the next check is due, when nothing is due today. */
  nextInDays: number | null;
  needsOwner: RoundRowData[];
  /** Work that is put off, with who did so and why. */
  waiting: WaitingData[];
  /** Counts asked of the rounds of the days before that nobody has made. */
  notCounted: NotCountedData[];
};

function Walk({ furniture, places, parts, done, total, air }: RoundPageProps) {
  const { locale } = furniture;
  const part = parts?.part ?? null;
  const open = places.flatMap(({ rows }) => rows).filter((row) => row.open.length > 0);
  return (
    <>
      <RoundProgress done={done} total={total} locale={locale} />
      {done === total && <p class="verdict">The round is done.</p>}
      {parts && <PartsHead parts={parts} locale={locale} />}
      {places.map((place) => (
        <RoundPlace key={place.key} furniture={furniture} place={place} part={part}>
          <AirWarnings {...air} warnings={air.atPlace.get(place.key) ?? []} link />
        </RoundPlace>
      ))}
      {places.length === 0 && <p>All that was due in this part is put off.</p>}
      {open.length > 1 && (
        <ManyBar
          furniture={furniture}
          part={part}
          did={open.some((row) => row.open.some(({ byTap }) => byTap))}
        />
      )}
      {parts && <PartsFoot parts={parts} locale={locale} />}
    </>
  );
}

/** What is said once the walk is over: on the last part of a round that has several. */
function End({ furniture, notCounted, waiting, needsOwner, parts }: RoundPageProps) {
  if (parts && parts.part < parts.of) return null;
  const part = parts?.part ?? null;
  return (
    <>
      <NotCounted rows={notCounted} furniture={furniture} part={part} />
      <Waiting rows={waiting} furniture={furniture} part={part} />
      <NeedsOwner rows={needsOwner} furniture={furniture} />
    </>
  );
}

function NothingDue({ begun, kept, nextInDays }: Pick<RoundPageProps, 'begun' | 'kept' | 'nextInDays'>) {
  // The first steps say what comes before a culture.
  if (kept === 0 && begun) return null;
  if (kept === 0)
    return (
      <Empty
        title="No cultures yet."
        step={{ href: '/cultures/new', label: 'Write down the first culture' }}
      />
    );
  return (
    <Empty
      title={
        nextInDays === null
          ? 'Nothing is due.'
          : `Nothing is due today; the next look is due in ${formatSpan(nextInDays)}.`
      }
      step={{ href: '/cultures', label: 'See all cultures' }}
    />
  );
}

export function RoundPage(props: RoundPageProps) {
  const { furniture, begun, today, starts, parts, places, total, air } = props;
  const isFirst = !parts || parts.part === 1;
  return (
    <Shell
      furniture={furniture}
      title="Round"
      purpose={
        <>
          What wants a look on <Day iso={today} form="long" locale={furniture.locale} />, in walking order.
        </>
      }
    >
      {isFirst && begun && <FirstSteps furniture={furniture} begun={begun} />}
      <div id="round" data-live="/round/live" data-part={parts?.part} data-parts={parts?.of}>
        {isFirst && <AirWarnings {...air} warnings={air.elsewhere} link />}
        {isFirst && <Starts starts={starts} furniture={furniture} />}
        {total === 0 ? <NothingDue {...props} /> : <Walk {...props} />}
        <End {...props} />
      </div>
      {total > 0 && (
        <WorkedOut
          of={['due', 'drying', 'development']}
          label="How are the days worked out?"
          so={sayRound(
            places.flatMap(({ rows }) => rows),
            { today, locale: furniture.locale },
          )}
        />
      )}
      {isFirst && starts.length > 0 && (
        <WorkedOut
          of="feeders"
          label="How are the starts worked out?"
          so={starts.flatMap(({ plan }) => sayFeeders(plan, furniture.locale))}
        />
      )}
      <Actions>
        <LinkButton href="/round/map">The racks</LinkButton>
        <LinkButton href="/round/paper">On paper</LinkButton>
      </Actions>
    </Shell>
  );
}
