import type { WaterOutlook } from '../../shared/climate/water-outlook.ts';
import { type AirSaid, type AirWarningData, AirWarnings } from '../climate/part-air-warning.tsx';
import { Water } from '../climate/part-water.tsx';
import type { CurveData } from '../counts/part-curve.tsx';
import { Expected, type ExpectedData } from '../development/part-expected.tsx';
import { Actions, LinkButton } from '../layout/button.tsx';
import { Code, Latin } from '../layout/code.tsx';
import { Facts } from '../layout/facts.tsx';
import { formatNumber } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Day } from '../layout/number.tsx';
import { Shell } from '../layout/shell.tsx';
import { Computed } from '../layout/worked-out.tsx';
import { type Kin, KinSection } from '../lines/part-kin.tsx';
import { Plans, type PlansProps } from '../splits/part-plans.tsx';
import { cultureHref } from './page-list.tsx';
import { Diary, type DiaryProps } from './part-diary.tsx';
import { type Begun, type CultureKnown, Numbers } from './part-numbers.tsx';
import { healthWords, sayCulture } from './say.ts';

export type CulturePageProps = {
  furniture: Furniture;
  culture: {
    id: number;
    code: string;
    morph: string;
    status: 'active' | 'quarantine' | 'retired';
    foundedOn: string;
    origin: string;
    foundingAnimals: number;
    note: string;
  };
  species: {
    id: number;
    scientificName: string;
    commonName: string;
    confidence: number;
    reserveAnimals: number;
    reserveShare: number;
  };
  line: { name: string; locality: string } | null;
  place: string | null;
  enclosure: string;
  parents: { code: string; animals: number }[];
  children: { code: string; animals: number; foundedOn: string; status: string }[];
  known: CultureKnown | null;
  countedDaysAgo: number | null;
  finding: string;
  begun: Begun;
  curve: CurveData;
  /** Its place is too warm or too cold for it. */
  air: AirSaid & { warnings: AirWarningData[] };
  /** Left out for a retired culture; null where nothing was noted of the surface. */
  water: WaterOutlook | null | undefined;
  /** How old the substrate is by the species' rhythm; null where it is never renewed. */
  substrate: { dueOn: string; overdueDays: number; reason: string } | null;
  /** Null for a retired culture. */
  planned: Pick<PlansProps, 'plans' | 'proposal'> | null;
  expected: ExpectedData[];
  today: string;
  kin: Kin | null;
  isShrinking: boolean;
  diary: DiaryProps;
};

const originWords: Record<string, string> = {
  wild: 'collected in the wild',
  bought: 'bought in',
  split: 'split off',
  unknown: 'not known',
};

function Codes({ items }: { items: { code: string; animals: number }[] }) {
  return (
    <>
      {items.map((item, i) => (
        <span key={item.code}>
          {i > 0 && ', '}
          <Code href={cultureHref(item.code)}>{item.code}</Code> ({formatNumber(item.animals)})
        </span>
      ))}
    </>
  );
}

function Verdict({
  known,
  countedDaysAgo,
  locale,
}: {
  known: CultureKnown | null;
  countedDaysAgo: number | null;
  locale?: string;
}) {
  if (!known) return <p class="verdict">Not worked out yet.</p>;
  if (known.fault !== null) {
    return (
      <Notice tone="harm">
        {known.fault} Correct the entry that is wrong in the diary below; until then nothing of this culture
        is offered for sale.
      </Notice>
    );
  }
  return (
    <>
      <p class="verdict">
        <Computed of={known.spareGroups > 0 || known.limitedBy ? 'surplus' : 'population'}>
          {sayCulture(known, countedDaysAgo, locale)}
        </Computed>
        .
      </p>
      {known.health !== 'well' && (
        <Notice tone="needs-you">{`This culture is held from sale or wants a look: ${healthWords[known.health]}.`}</Notice>
      )}
    </>
  );
}

function Work({ id, code, status }: CulturePageProps['culture']) {
  const to = (what: string) => `${cultureHref(code)}/${what}`;
  const contact = <LinkButton href={to('trace')}>Who had contact</LinkButton>;
  if (status === 'retired') return <Actions>{contact}</Actions>;
  return (
    <Actions>
      <LinkButton href={to('count')}>Count</LinkButton>
      <LinkButton href={to('split')}>Split</LinkButton>
      <LinkButton href={to('write')}>Feed, water, move and more</LinkButton>
      <LinkButton href={`/labels?only=${id}`}>Label</LinkButton>
      {contact}
    </Actions>
  );
}

function Origin(props: CulturePageProps) {
  const { culture, furniture } = props;
  const { locale } = furniture;
  return (
    <Facts
      columns={2}
      items={[
        { term: 'Place', value: props.place ?? 'no place yet' },
        { term: 'Enclosure', value: props.enclosure },
        {
          term: 'Line',
          value: props.line
            ? `${props.line.name}${props.line.locality ? `, ${props.line.locality}` : ''}`
            : null,
        },
        {
          term: 'Founded',
          value: <Day iso={culture.foundedOn} locale={locale} />,
          note: `${formatNumber(culture.foundingAnimals)} animals, ${originWords[culture.origin]}`,
        },
        props.parents.length > 0 && { term: 'From', value: <Codes items={props.parents} /> },
        props.children.length > 0 && { term: 'Split into', value: <Codes items={props.children} /> },
        { term: 'Note', value: culture.note },
      ]}
    />
  );
}

function OldSubstrate({ substrate, at }: Pick<CulturePageProps, 'substrate'> & { at: string }) {
  if (!substrate || substrate.overdueDays < 0) return null;
  return (
    <Notice tone="needs-you">
      Old {substrate.reason}. <a href={`${at}/split`}>Split</a> it, or{' '}
      <a href={`${at}/check#field-substrate`}>write the renewal down</a>.
    </Notice>
  );
}

export function CulturePage(props: CulturePageProps) {
  const { furniture, culture, species, known, countedDaysAgo, diary } = props;
  const { locale } = furniture;
  return (
    <Shell
      furniture={furniture}
      title={`${culture.code}, ${species.scientificName}`}
      heading={
        <>
          <Code large>{culture.code}</Code> <Latin>{species.scientificName}</Latin>
        </>
      }
      purpose={[
        [species.commonName, culture.morph, culture.status === 'active' ? '' : culture.status]
          .filter(Boolean)
          .join(', '),
        'how many are in there, what it can spare, and its diary.',
      ]
        .filter(Boolean)
        .join(': ')}
      width="wide"
      breadcrumbs={[{ href: '/cultures', label: 'Cultures' }]}
      actions={
        <>
          {culture.status !== 'retired' && (
            <LinkButton href={`${cultureHref(culture.code)}/check`} kind="main">
              Check
            </LinkButton>
          )}
          <LinkButton href={`${cultureHref(culture.code)}/edit`}>Edit</LinkButton>
        </>
      }
    >
      <Verdict known={known} countedDaysAgo={countedDaysAgo} locale={locale} />
      <AirWarnings {...props.air} link />
      <Work {...culture} />
      {known && known.fault === null && <Numbers {...props} known={known} />}
      {props.water !== undefined && <Water outlook={props.water} today={props.today} locale={locale} />}
      <OldSubstrate substrate={props.substrate} at={cultureHref(culture.code)} />
      <Expected expected={props.expected} today={props.today} locale={locale} />
      {props.planned && (
        <Plans furniture={furniture} code={culture.code} {...props.planned} today={props.today} />
      )}
      <section aria-labelledby="origin-title">
        <h2 id="origin-title">Where it stands and comes from</h2>
        <Origin {...props} />
      </section>
      <KinSection
        code={culture.code}
        speciesId={species.id}
        isRetired={culture.status === 'retired'}
        kin={props.kin}
        isShrinking={props.isShrinking}
        locale={locale}
      />
      <Diary {...diary} units={furniture.units} />
    </Shell>
  );
}
