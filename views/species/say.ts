import { fieldUnitsOf, shownNumber } from '../../shared/settings/typed-units.ts';
import type { UnitSystem } from '../../shared/settings/units.ts';
import { type AnimalGroup, isParthenogenetic, type SpeciesFigures } from '../../shared/species/columns.ts';
import { formatCount, formatNumber, formatPercent } from '../layout/format.ts';

export const groupWords: Record<AnimalGroup, string> = {
  isopod: 'isopod',
  springtail: 'springtail',
  pseudoscorpion: 'pseudoscorpion',
  roach: 'roach',
  beetle: 'beetle',
  millipede: 'millipede',
  mantid: 'mantid',
  fly: 'fly',
  other: 'other invertebrate',
};

/** The groups as headings and lists call them. */
export const groupsWords: Record<AnimalGroup, string> = {
  isopod: 'Isopods',
  springtail: 'Springtails',
  pseudoscorpion: 'Pseudoscorpions',
  roach: 'Roaches',
  beetle: 'Beetles',
  millipede: 'Millipedes',
  mantid: 'Mantids',
  fly: 'Flies',
  other: 'Other animals',
};

type Group = Pick<SpeciesFigures, 'groupAdults' | 'groupJuveniles' | 'groupExtras'>;

/** "10 adults and 2 juveniles, 2 extra against losses". */
export function starterGroupWords({ groupAdults, groupJuveniles, groupExtras }: Group): string {
  const parts = [
    groupAdults > 0 && formatCount(groupAdults, 'adult'),
    groupJuveniles > 0 && formatCount(groupJuveniles, 'juvenile'),
  ].filter(Boolean);
  return parts.join(' and ') + (groupExtras > 0 ? `, ${groupExtras} extra against losses` : '');
}

/** A chance in percent, never rounded to certainty: 0.99365 -> "99.4 %", 0.9999 -> "more than 99.9 %". */
export function chanceWords(probability: number, locale?: string): string {
  const percent = Math.round(probability * 1000) / 10;
  if (probability < 1 && percent >= 100) return `more than ${formatPercent(0.999, locale, 1)}`;
  if (probability > 0 && percent <= 0) return `less than ${formatPercent(0.001, locale, 1)}`;
  return formatPercent(probability, locale, 1);
}

export type Start = Pick<SpeciesFigures, 'startMales' | 'startFemales' | 'femaleShare'>;

const atLeast = (males: number, females: number) => {
  if (males === females && males > 0) {
    const times = males === 1 ? 'once' : males === 2 ? 'twice' : `${males} times`;
    return `both sexes at least ${times}`;
  }
  const parts = [
    males > 0 && formatCount(males, 'male'),
    females > 0 && formatCount(females, 'female'),
  ].filter(Boolean);
  return `at least ${parts.join(' and ')}`;
};

/** "A group of 12 has both sexes at least twice in 99.4 % of cases." */
export function safetyWords(animals: number, start: Start, probability: number, locale?: string): string {
  const { startMales, startFemales, femaleShare } = start;
  if (startMales + startFemales === 0) return `A group of ${animals} is asked for no sex in particular.`;
  if (isParthenogenetic(start))
    return animals >= startFemales
      ? `A group of ${animals} is enough: all are females that need no male.`
      : `A group of ${animals} is too few: a start needs ${startFemales}.`;
  const share = femaleShare === 0.5 ? '' : `, with ${formatPercent(femaleShare, locale, 1)} females`;
  return `A group of ${animals} has ${atLeast(startMales, startFemales)} in ${chanceWords(probability, locale)} of cases${share}.`;
}

/** Nine times in ten a log-normal value lies within this many standard deviations of its logarithm. */
const NINE_IN_TEN = 1.6448536269514722;

/** About this much, and nine times in ten between the two ends: "about 20 (8.8 to 46)". */
export function spreadWords(median: number, sdLog: number, locale?: string): string {
  const digits = (value: number) => (value < 20 ? 1 : 0);
  const number = (value: number) => formatNumber(value, locale, digits(value));
  if (sdLog === 0) return number(median);
  const factor = Math.exp(sdLog * NINE_IN_TEN);
  return `about ${number(median)} (${number(median / factor)} to ${number(median * factor)})`;
}

/** Animals a litre, or a quart, with their doubt. */
export function capacityWords(
  { capacityPerLitreMedian, capacitySdLog }: Pick<SpeciesFigures, 'capacityPerLitreMedian' | 'capacitySdLog'>,
  units: UnitSystem,
  locale?: string,
): string {
  const litres = units === 'us' ? 0.946352946 : 1;
  return `${spreadWords(capacityPerLitreMedian * litres, capacitySdLog, locale)} ${fieldUnitsOf(units).density} of substrate`;
}

/** "of 20 animals about 6": a Beta share said as its own count of animals. */
export function shareWords(alpha: number, beta: number): string {
  return `of ${shownNumber(alpha + beta, 1)} animals about ${shownNumber(alpha, 1)}`;
}
