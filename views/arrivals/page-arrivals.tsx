import { type Arrival, type ArrivalCurve, curveNeeds } from '../../shared/arrivals/arrival-curve.ts';
import type { NoProposal, Proposal, Side } from '../../shared/arrivals/limit.ts';
import type { UnitSystem } from '../../shared/settings/units.ts';
import { PostButton } from '../layout/button.tsx';
import { Latin } from '../layout/code.tsx';
import { Empty } from '../layout/empty.tsx';
import { formatCount } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { DataTable } from '../layout/table.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';
import { LossChart } from './part-curve.tsx';
import { apart, exactLimit, percent } from './say.ts';
import { sayLessons, sayLosses } from './say-worked-out.ts';

export type LessonRow = {
  speciesId: number;
  scientificName: string;
  commonName: string;
  pack: string | null;
  sent: number;
  dead: number;
  lowestC: number;
  highestC: number;
};

type SideLesson = {
  side: Side;
  arrivals: readonly Arrival[];
  curve: ArrivalCurve | null;
  proposal: Proposal | null;
  why: NoProposal | null;
};

export type SpeciesLesson = {
  id: number;
  scientificName: string;
  safeLowC: number;
  safeHighC: number;
  low: SideLesson;
  high: SideLesson;
};

export type ArrivalsPageProps = {
  furniture: Furniture;
  rows: readonly LessonRow[];
  told: { sent: number; told: number };
  chosen: SpeciesLesson | null;
  units: UnitSystem;
};

type Group = {
  key: string;
  first: LessonRow;
  parcels: number;
  sent: number;
  dead: number;
  lows: number[];
  highs: number[];
};

/** Parcels of the same species that went with the same pack. */
function grouped(rows: readonly LessonRow[]): Group[] {
  const groups = new Map<string, Group>();
  for (const row of rows) {
    const key = `${row.speciesId} ${row.pack ?? ''}`;
    const group = groups.get(key) ?? { key, first: row, parcels: 0, sent: 0, dead: 0, lows: [], highs: [] };
    group.parcels += 1;
    group.sent += row.sent;
    group.dead += row.dead;
    group.lows.push(row.lowestC);
    group.highs.push(row.highestC);
    groups.set(key, group);
  }
  return [...groups.values()];
}

function Table({ rows, units, furniture }: ArrivalsPageProps) {
  const { locale } = furniture;
  const range = (temps: readonly number[]) => {
    const [low, high] = [Math.min(...temps), Math.max(...temps)].map((tempC) =>
      exactLimit(tempC, units, locale),
    );
    return low === high ? low : `${low} to ${high}`;
  };
  return (
    <DataTable
      caption="Arrivals by species and pack"
      hideCaption
      rows={grouped(rows)}
      rowKey={(group) => group.key}
      columns={[
        {
          key: 'species',
          head: 'Species',
          rowHeader: true,
          cell: ({ first }) => (
            <>
              <a href={`/parcels/arrivals?species=${first.speciesId}#limits`}>
                <Latin>{first.scientificName}</Latin>
              </a>{' '}
              {first.commonName}
            </>
          ),
        },
        { key: 'pack', head: 'Pack', cell: ({ first }) => first.pack ?? 'none' },
        { key: 'parcels', head: 'Parcels', numeric: true, cell: ({ parcels }) => parcels },
        { key: 'sent', head: 'Animals', numeric: true, cell: ({ sent }) => sent },
        {
          key: 'dead',
          computed: 'arrivals',
          head: 'Dead',
          numeric: true,
          cell: ({ dead, sent }) => (dead === 0 ? 0 : `${dead} (${percent(dead / sent, locale)})`),
        },
        { key: 'low', head: 'Coldest inside', computed: 'parcel', cell: ({ lows }) => range(lows) },
        { key: 'high', head: 'Warmest inside', computed: 'parcel', cell: ({ highs }) => range(highs) },
      ]}
    />
  );
}

const reasonsIn = (units: UnitSystem): Record<NoProposal, string> => ({
  'too little': `A curve is fitted from ${curveNeeds.parcels} parcels on, ${curveNeeds.withLosses} of them with losses, over at least ${apart(curveNeeds.spanC, units)}. Parcels count, not animals: those of one parcel share their fate.`,
  'no slope': 'From what has arrived so far nobody can tell that this temperature matters.',
  'wrong way': 'Losses do not rise in this direction.',
  outside: 'Expected losses pass 2 % at a temperature that no parcel has had, so no limit is proposed.',
  'between limits':
    'Expected losses pass 2 % outside what the species’ page calls deadly or ideal. Look at those limits first.',
});

/** Fewer dots are no picture; the table says it all. */
const leastToDraw = 3;

function SideSection({
  lesson,
  species,
  props,
}: {
  lesson: SideLesson;
  species: SpeciesLesson;
  props: ArrivalsPageProps;
}) {
  const { units, furniture } = props;
  const { side, proposal, why, curve, arrivals } = lesson;
  const limitC = side === 'low' ? species.safeLowC : species.safeHighC;
  const isTaken = proposal?.limitC === limitC;
  return (
    <section>
      <h3>{side === 'low' ? 'Cold' : 'Heat'}</h3>
      {arrivals.length >= leastToDraw && (
        <LossChart
          side={side}
          arrivals={arrivals}
          curve={curve}
          proposal={proposal}
          limitC={limitC}
          units={units}
          locale={furniture.locale}
        />
      )}
      {why && <p>{reasonsIn(units)[why]}</p>}
      {curve && curve.spread > 1.05 && (
        <p class="quiet">
          Parcels differ {curve.spread.toFixed(1)} times as much as chance among single animals would have it;
          the interval is wider for it.
        </p>
      )}
      {proposal && isTaken && <p>This is the species’ limit already.</p>}
      {proposal && !isTaken && (
        <PostButton
          furniture={furniture}
          action="/parcels/arrivals/limit"
          fields={{ species: species.id, side }}
          keyPart={side}
          kind="main"
          label={`Make ${exactLimit(proposal.limitC, units, furniture.locale)} the ${side === 'low' ? 'lowest' : 'highest'} safe temperature`}
        />
      )}
    </section>
  );
}

/** Of the parcels that had losses; more than a few are no help to anybody who checks a sum. */
const sayGroups = ({ rows, furniture }: ArrivalsPageProps) =>
  grouped(rows)
    .filter(({ dead }) => dead > 0)
    .slice(0, 12)
    .map(({ first, dead, sent }) => sayLosses({ name: first.scientificName, dead, sent }, furniture.locale));

/** What the arrivals so far teach: by species and pack, and of the limits of one species. */
export function ArrivalsPage(props: ArrivalsPageProps) {
  const { furniture, rows, told, chosen, units } = props;
  const { locale } = furniture;
  return (
    <Shell
      furniture={furniture}
      title="What arrivals teach"
      purpose="How many arrived dead, against the temperatures that were worked out for their trips."
      width="wide"
      breadcrumbs={[{ href: '/orders', label: 'Orders' }]}
    >
      {rows.length === 0 ? (
        <Empty title="No parcel has both a trip that was worked out and a customer who told how it arrived.">
          A trip is kept when a parcel is planned on the packing day; customers tell on their own page.
        </Empty>
      ) : (
        <>
          <p class="quiet">
            {told.told} of {formatCount(told.sent, 'parcel')} were told of. Whoever lost animals is likelier
            to write, so losses may look more common than they are. Only dead animals count here: missing ones
            may never have been in the box.
          </p>
          <Table {...props} />
          {!chosen && <WorkedOut of={['arrivals', 'parcel']} so={sayGroups(props)} />}
        </>
      )}
      {chosen && (
        <section id="limits">
          <h2>
            <Latin>{chosen.scientificName}</Latin>
          </h2>
          <div class="columns">
            <SideSection lesson={chosen.low} species={chosen} props={props} />
            <SideSection lesson={chosen.high} species={chosen} props={props} />
          </div>
          <WorkedOut
            of={['arrivals', 'parcel']}
            so={[...sayGroups(props), ...sayLessons([chosen.low, chosen.high], { units, locale })]}
          >
            <p>
              How it is reckoned: logistic regression on parcels with Firth’s penalty (Firth 1993; Heinze and
              Schemper 2002), errors widened by what parcels differ (quasi-binomial), the interval of the
              temperature after Fieller (1954). It shows what went together, not what killed: a long trip is
              cold and long.
            </p>
          </WorkedOut>
        </section>
      )}
    </Shell>
  );
}
