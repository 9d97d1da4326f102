import { shownNumber } from '../../shared/settings/typed-units.ts';
import type { UnitSystem } from '../../shared/settings/units.ts';
import { isParthenogenetic, type SpeciesFigures } from '../../shared/species/columns.ts';
import { Facts } from '../layout/facts.tsx';
import { formatNumber } from '../layout/format.ts';
import { WorkedOut } from '../layout/worked-out.tsx';
import type { Home } from './part-home.tsx';
import { capacityWords, shareWords, spreadWords } from './say.ts';

type BeliefsProps = {
  figures: SpeciesFigures;
  home: Home | null;
  units: UnitSystem;
  locale: string | undefined;
};

const percent = (share: number) => `${shownNumber(share * 100, 1)}\u00a0%`;

/** What is believed of a culture before anything in it is counted, and where each figure goes. */
export function Beliefs({ figures, home, units, locale }: BeliefsProps) {
  const weeks = Math.LN2 / figures.growthPerWeekMedian;
  const ownCapacity =
    home && spreadWords(figures.capacityPerLitreMedian * home.substrateLitres, figures.capacitySdLog, locale);
  const share = figures.detectionAlpha / (figures.detectionAlpha + figures.detectionBeta);
  const number = (value: number, digits = 1) => formatNumber(value, locale, digits);
  const so = [
    `Doubles in ln 2 ÷ ${number(figures.growthPerWeekMedian, 3)} = ${number(weeks)} weeks.`,
    home &&
      `${home.name}: ${number(figures.capacityPerLitreMedian)} a litre × ${number(home.substrateLitres, 2)} L = ${number(figures.capacityPerLitreMedian * home.substrateLitres, 0)}.`,
    `Of ${number(figures.detectionAlpha + figures.detectionBeta)} animals ${number(figures.detectionAlpha)} show: ${percent(share)}.`,
  ];
  return (
    <>
      <Facts
        items={[
          {
            term: 'Growth',
            computed: 'population',
            value: `doubles in ${spreadWords(weeks, figures.growthSdLog, locale)} weeks`,
            note: `while there is room; ${formatNumber(figures.growthPerWeekMedian, locale, 3)} a week`,
          },
          {
            term: 'Capacity',
            computed: 'population',
            value: capacityWords(figures, units, locale),
            note: home && `in a ${home.name}: ${ownCapacity}`,
          },
          {
            term: 'Ups and downs',
            value: `${percent(figures.processSd)} a week`,
            note: 'that growth and capacity do not explain',
          },
          {
            term: 'Share seen',
            computed: 'detection',
            value: `${shareWords(figures.detectionAlpha, figures.detectionBeta)} show`,
          },
          {
            term: 'Adults',
            computed: 'surplus',
            value: `${shareWords(figures.adultAlpha, figures.adultBeta)} are adult`,
          },
        ]}
      />
      <WorkedOut of={['population', 'detection', 'surplus']} so={so}>
        <p>
          These are beliefs to begin with, and they are the owner’s. A new culture’s estimate starts from its
          founding group and grows at this pace towards this capacity (capacity a litre × litres of
          substrate). In brackets: nine times in ten the truth is thought to lie between these two.
        </p>
        <p>
          Every count weighs against them: after a few counts a culture’s own growth and capacity are known
          better than any belief. “Of 20 animals about 6 show” turns a glance into a head count with its
          doubt; the first number says how sure that share is, as if so many animals had been watched.
        </p>
      </WorkedOut>
    </>
  );
}

/** What must stay in a culture, and how sure one must be before an animal is called spare. */
export function Staying({ figures }: { figures: SpeciesFigures }) {
  return (
    <>
      <Facts
        items={[
          {
            term: 'Reserve',
            value: `${figures.reserveAnimals} animals or ${percent(figures.reserveShare)} of the capacity`,
            note: 'whichever is more',
          },
          { term: 'How sure', value: percent(figures.confidence) },
          {
            term: 'Sexes',
            value: isParthenogenetic(figures)
              ? 'females alone, no males needed'
              : `${percent(figures.femaleShare)} females`,
          },
          { term: 'Generation', value: `${figures.generationDays} days` },
          { term: 'Breed', value: `${percent(figures.effectiveRatio)} of the animals pass on their genes` },
        ]}
      />
      <WorkedOut of="surplus">
        <p>
          An animal is spare when the culture keeps its reserve without it, with the sureness given here.
          Growth is fastest at half the capacity, so half is a good reserve: a culture that is kept there
          gives most.
        </p>
      </WorkedOut>
    </>
  );
}
