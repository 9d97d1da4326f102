import type { UnitSystem } from '../../shared/settings/units.ts';
import { type CurveData, PopulationCurve } from '../counts/part-curve.tsx';
import { type Fact, Facts } from '../layout/facts.tsx';
import { formatAgo, formatInTen, formatNumber, formatPercent } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Day, Estimate } from '../layout/number.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';
import { type Known, limitedByWords } from './say.ts';
import { sayPopulation, saySpare } from './say-worked-out.ts';

export type CultureKnown = Known & {
  growthMedian: number | null;
  growthLower: number | null;
  growthUpper: number | null;
  capacityMedian: number | null;
  capacityLower: number | null;
  capacityUpper: number | null;
  reserve: number | null;
  promised: number;
  /** Animals that could be promised if none were yet. */
  promisable: number;
  spareAnimals: number;
  sustainableMedian: number | null;
  sustainableLower: number | null;
  sustainableUpper: number | null;
  extinct: number | null;
};

/** What a culture's estimate began with. */
export type Begun = {
  foundedOn: string;
  foundingAnimals: number;
  /** Believed of the species in so much substrate, before anything was counted. */
  substrateLitres: number;
  units: UnitSystem;
  growthPerWeek: number;
  capacity: number;
  /** Animals that leave with one group, extras included. */
  groupAnimals: number;
};

export type NumbersProps = {
  furniture: Furniture;
  species: { confidence: number; reserveAnimals: number; reserveShare: number };
  countedDaysAgo: number | null;
  finding: string;
  curve: CurveData;
  begun: Begun;
};

function numbers(known: CultureKnown, locale?: string): (Fact | null)[] {
  if (known.fault !== null) return [];
  const band = (median: number | null, lower: number | null, upper: number | null) =>
    median === null ? null : (
      <Estimate median={median} lower={lower ?? 0} upper={upper ?? 0} locale={locale} />
    );
  const percent = (share: number | null) => formatNumber((share ?? 0) * 100, locale, 1);
  const decimal = (value: number | null) => formatNumber(value ?? 0, locale, 1);
  return [
    {
      term: 'The enclosure holds',
      computed: 'population',
      value: band(known.capacityMedian, known.capacityLower, known.capacityUpper),
    },
    {
      term: 'Grows, while there is room',
      computed: 'population',
      value: `${formatPercent(known.growthMedian ?? 0, locale, 1)} a week`,
      note: `(${percent(known.growthLower)} to ${percent(known.growthUpper)})`,
    },
    { term: 'Must stay', computed: 'surplus', value: formatNumber(Math.ceil(known.reserve ?? 0), locale) },
    { term: 'Promised to orders', value: formatNumber(known.promised, locale) },
    {
      term: 'Animals to spare',
      computed: 'surplus',
      value: formatNumber(known.spareAnimals, locale),
      note: limitedByWords(known.limitedBy),
    },
    {
      term: 'Could give for good',
      computed: 'surplus',
      value: `about ${decimal(known.sustainableMedian)} a week`,
      note: `(${decimal(known.sustainableLower)} to ${decimal(known.sustainableUpper)})`,
    },
    known.readyOn
      ? { term: 'Next group', computed: 'surplus', value: <Day iso={known.readyOn} locale={locale} /> }
      : null,
    (known.extinct ?? 0) > 0.01
      ? { term: 'May have died out', computed: 'population', value: formatInTen(known.extinct ?? 0) }
      : null,
  ];
}

function HowNumbers({ species, ...props }: NumbersProps & { known: CultureKnown }) {
  return (
    <WorkedOut
      of={['population', 'surplus']}
      so={[...sayPopulation(props), ...saySpare({ ...props, species }, props.furniture.locale)]}
    >
      <p>
        The number is an estimate. It starts from the founding group and what is believed of the species,
        grows towards what the enclosure holds, and is corrected by every count: a full count says much,
        animals seen at the wall say little, because the share that shows varies. Animals taken out or put in
        are reckoned exactly.
      </p>
      <p>
        What must stay is {formatNumber(species.reserveAnimals)} animals or{' '}
        {formatPercent(species.reserveShare, props.furniture.locale)} of what the enclosure holds, whichever
        is more. Spare is what can go while the rest is above that with{' '}
        {formatPercent(species.confidence, props.furniture.locale)} certainty, promised animals taken off. The
        surest way to more spare animals is a fresh count.
      </p>
    </WorkedOut>
  );
}

/** The number over the time, and what else is known. */
export function Numbers(props: NumbersProps & { known: CultureKnown }) {
  const { known, curve, finding, countedDaysAgo, furniture } = props;
  const { locale } = furniture;
  return (
    <>
      <PopulationCurve data={curve} finding={finding} locale={locale} />
      <section aria-labelledby="numbers-title">
        <h2 id="numbers-title">What is known</h2>
        <Facts columns={2} items={numbers(known, locale)} />
        {countedDaysAgo !== null && <p class="quiet">Last counted {formatAgo(countedDaysAgo)}.</p>}
        <HowNumbers {...props} />
      </section>
    </>
  );
}
