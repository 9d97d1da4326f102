import type { UnitSystem } from '../../shared/settings/units.ts';
import type { PlanKind } from '../../shared/splits/plan-form.ts';
import { type Span, spanChoices } from '../../shared/substrate/form.ts';
import type { ToBuy } from '../../shared/substrate/shopping.ts';
import { cultureHref } from '../cultures/page-list.tsx';
import { ChipLinks } from '../cultures/part-chip-links.tsx';
import { LinkButton } from '../layout/button.tsx';
import { Code, Latin } from '../layout/code.tsx';
import { Empty } from '../layout/empty.tsx';
import { formatCount, formatDay, formatPercent } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { PaperFoot } from '../layout/paper-foot.tsx';
import { Shell } from '../layout/shell.tsx';
import { DataTable } from '../layout/table.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';
import { intoWords, PlanButtons } from '../splits/part-plans.tsx';
import { sayFull } from '../splits/say-plan.ts';
import { type BatchData, BatchPart } from './part-batch.tsx';
import { OldSubstrate, Proposed, type ProposedRow, type RenewalRow } from './part-proposals.tsx';
import { bothVolumes } from './say.ts';
import { sayBatch } from './say-worked-out.ts';

type PlannedRow = {
  id: number;
  what: PlanKind;
  onDay: string;
  code: string;
  scientificName: string;
  place: string | null;
  enclosures: number;
  enclosure: string;
};

type Pair = {
  speciesId: number;
  scientificName: string;
  enclosureId: number;
  enclosure: string;
  cultures: number;
  own: number;
};

export type SubstratePageProps = {
  furniture: Furniture;
  units: UnitSystem;
  today: string;
  weeks: Span;
  /** The last day of the list. */
  until: string;
  spare: number;
  plans: readonly PlannedRow[];
  batches: readonly BatchData[];
  shopping: readonly ToBuy[];
  proposals: readonly ProposedRow[];
  moreProposals: number;
  renewals: readonly RenewalRow[];
  moreRenewals: number;
  pairs: readonly Pair[];
  mayEdit: boolean;
};

const spanWords: Record<Span, string> = { 1: 'This week', 2: 'Two weeks', 4: 'Four weeks' };

function SpanLinks({ weeks }: Pick<SubstratePageProps, 'weeks'>) {
  const links = spanChoices.map((span) => ({
    href: span === 1 ? '/substrate' : `/substrate?weeks=${span}`,
    label: spanWords[span],
    current: span === weeks,
  }));
  return <ChipLinks label="How far ahead" links={links} />;
}

function bagWords({ bags, bagLitres, missingLitres }: ToBuy, units: UnitSystem, locale?: string) {
  if (missingLitres <= 0) return 'nothing';
  if (bags === null || bagLitres === null) return bothVolumes(missingLitres, units, locale);
  return `${formatCount(bags, 'bag', 'bags', locale)} of ${bothVolumes(bagLitres, units, locale)}`;
}

function Shopping({ shopping, units, furniture }: SubstratePageProps) {
  const { locale } = furniture;
  const volume = (litres: number) => bothVolumes(litres, units, locale);
  return (
    <section aria-labelledby="shopping-title">
      <h2 id="shopping-title">To have at hand</h2>
      <DataTable
        caption="Materials for all of it"
        hideCaption
        rows={shopping}
        rowKey={(row) => row.material}
        rowTone={(row) => (row.missingLitres > 0 && row.inHandLitres !== null ? 'needs-you' : undefined)}
        columns={[
          { key: 'material', head: 'Material', rowHeader: true, cell: (row) => row.material },
          {
            key: 'needed',
            head: 'Needed',
            numeric: true,
            computed: 'substrate',
            cell: (row) => volume(row.neededLitres),
          },
          {
            key: 'in-hand',
            head: 'On the shelf',
            numeric: true,
            cell: (row) => (row.inHandLitres === null ? 'not said' : volume(row.inHandLitres)),
          },
          {
            key: 'buy',
            head: 'To buy',
            numeric: true,
            computed: 'substrate',
            cell: (row) => bagWords(row, units, locale),
          },
        ]}
      />
    </section>
  );
}

function Planned({ plans, furniture, today }: SubstratePageProps) {
  const { locale } = furniture;
  return (
    <section aria-labelledby="planned-title">
      <h2 id="planned-title">Planned</h2>
      <DataTable
        caption="Planned splits and fresh substrate"
        hideCaption
        rows={plans}
        rowKey={(plan) => plan.id}
        rowTone={(plan) => (plan.onDay < today ? 'needs-you' : undefined)}
        columns={[
          {
            key: 'code',
            head: 'Culture',
            rowHeader: true,
            cell: (plan) => (
              <>
                <Code href={cultureHref(plan.code)}>{plan.code}</Code> <Latin>{plan.scientificName}</Latin>
              </>
            ),
          },
          {
            key: 'day',
            head: 'On',
            cell: (plan) =>
              `${formatDay(plan.onDay, locale, 'weekday')}${plan.onDay < today ? ' (overdue)' : ''}`,
          },
          {
            key: 'what',
            head: 'What',
            cell: (plan) => `${plan.what === 'split' ? 'split' : 'fresh substrate'}, into ${intoWords(plan)}`,
          },
          { key: 'place', head: 'Place', cell: (plan) => plan.place ?? 'no place yet' },
          {
            key: 'buttons',
            head: 'Work',
            hideHead: true,
            phoneLabel: '',
            cell: (plan) => (
              <PlanButtons furniture={furniture} plan={plan} code={plan.code} back="substrate" />
            ),
          },
        ]}
      />
    </section>
  );
}

function Recipes({ pairs }: Pick<SubstratePageProps, 'pairs'>) {
  return (
    <details class="more not-printed">
      <summary>Recipes</summary>
      <ul>
        {pairs.map((pair) => (
          <li key={`${pair.speciesId}-${pair.enclosureId}`}>
            <a href={`/substrate/recipes/${pair.speciesId}/${pair.enclosureId}`}>
              <Latin>{pair.scientificName}</Latin> in the {pair.enclosure}
            </a>{' '}
            ({formatCount(pair.cultures, 'culture')}
            {pair.own > 0 && ', a recipe of its own'})
          </li>
        ))}
      </ul>
    </details>
  );
}

function How({ spare, furniture, batches, units, proposals }: SubstratePageProps) {
  const { locale } = furniture;
  const so = [
    ...batches.flatMap((batch) => sayBatch(batch, { spare, units, locale })),
    ...proposals.map((proposal) => `${proposal.code}: ${sayFull(proposal, locale)}`),
  ];
  return (
    <WorkedOut of={['substrate', 'population', 'due']} so={so}>
      <p>
        Each layer fills the room between two heights of the enclosure, by its inside measures. Parts are
        measured loose, and a material that settles takes more of it. The list holds{' '}
        {formatPercent(spare, furniture.locale, 1)} more than that. What is on the shelf is taken off, and the
        rest rounded up to whole bags.
      </p>
      <p>
        Quarts are US liquid quarts of 0.946352946 litre, because substrate is measured in the same jugs as
        water. Some bags are sold by the US dry quart, which is 1.101220942715 litres (67.200625 cubic
        inches), or by the cubic foot, 28.316846592 litres: NIST Handbook 44, Appendix C, and NIST Special
        Publication 811.
      </p>
      <p>
        A culture counts as full from nine tenths of what its enclosure holds, by the middle of its forecast:
        as many will be full earlier as later.
      </p>
    </WorkedOut>
  );
}

/** What to mix for the splits and repots of the week, and what to buy for it. */
export function SubstratePage(props: SubstratePageProps) {
  const { furniture, weeks, until, batches, plans, units, spare, mayEdit, pairs } = props;
  const { locale } = furniture;
  const last = formatDay(until, locale, 'weekday');
  return (
    <Shell
      furniture={furniture}
      title="Substrate"
      purpose={`What to mix for what is planned until ${last}.`}
      width="wide"
      breadcrumbs={[{ href: '/cultures', label: 'Cultures' }]}
      actions={<LinkButton href="/substrate/materials">What is on the shelf</LinkButton>}
    >
      <SpanLinks weeks={weeks} />
      {plans.length === 0 ? (
        <Empty title={`Nothing is planned until ${last}.`}>
          <p>Take over a proposal below, or plan a split or fresh substrate on a culture’s page.</p>
        </Empty>
      ) : (
        <>
          <section aria-labelledby="mix-title">
            <h2 id="mix-title">To mix</h2>
            {batches.map((batch, i) => (
              <BatchPart
                key={`${batch.enclosure.id}-${i}`}
                batch={batch}
                spare={spare}
                units={units}
                locale={locale}
                mayEdit={mayEdit}
                prefix={`batch${i}`}
              />
            ))}
          </section>
          <Shopping {...props} />
          <Planned {...props} />
          <PaperFoot furniture={furniture}>
            Loose litres: the inside measures of the enclosures, each material’s parts and what it settles,
            with {formatPercent(spare, locale, 1)} more.
          </PaperFoot>
        </>
      )}
      <Proposed {...props} rows={props.proposals} more={props.moreProposals} />
      <OldSubstrate {...props} rows={props.renewals} more={props.moreRenewals} />
      {mayEdit && pairs.length > 0 && <Recipes pairs={pairs} />}
      <How {...props} />
    </Shell>
  );
}
