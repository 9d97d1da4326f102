import { fieldUnitsOf } from '../../shared/settings/typed-units.ts';
import { litresToQuarts } from '../../shared/settings/units.ts';
import type { CurveData } from '../counts/curve-plan.ts';
import { formatCount, formatDay, formatNumber, formatPercent } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { formatEstimate } from '../layout/round-estimate.ts';
import type { Begun, CultureKnown } from './part-numbers.tsx';

type Case = { furniture: Furniture; known: CultureKnown; curve: CurveData; begun: Begun };

const inUnits = ({ substrateLitres, units }: Begun) =>
  units === 'us' ? litresToQuarts(substrateLitres) : substrateLitres;

const sum = (changes: readonly { animals: number }[]) =>
  changes.reduce((animals, change) => animals + change.animals, 0);

function sayChanges({ removals, additions }: CurveData, locale?: string): string {
  const animals = (changes: readonly { animals: number }[]) =>
    `${formatCount(sum(changes), 'animal', 'animals', locale)} in ${formatCount(changes.length, 'entry', 'entries', locale)}`;
  const said = [
    removals.length > 0 && `taken out: ${animals(removals)}`,
    additions.length > 0 && `put in: ${animals(additions)}`,
  ].filter(Boolean);
  return said.length === 0 ? 'nothing taken out or put in since' : `since then ${said.join(', ')}`;
}

function sayLastCount({ counts }: CurveData, locale?: string): string | null {
  const last = counts.at(-1);
  if (!last) return null;
  const all = formatEstimate(last.impliedMedian, last.impliedLower, last.impliedUpper, locale);
  const share = last.share ? ` ÷ ${formatPercent(last.share.value, locale, 1)} that ${last.share.words}` : '';
  return `Last count, ${formatDay(last.date, locale)} (${last.method}): ${formatNumber(last.counted, locale)} seen${share} = ${all} by that count alone.`;
}

/** What the estimate of a culture stands on, with its values. */
export function sayPopulation({ furniture, known, curve, begun }: Case): (string | null)[] {
  const { locale } = furniture;
  const number = (value: number, digits = 0) => formatNumber(value, locale, digits);
  const now =
    known.median === null ? null : formatEstimate(known.median, known.lower ?? 0, known.upper ?? 0, locale);
  return [
    `Founded ${formatDay(begun.foundedOn, locale)} with ${formatCount(begun.foundingAnimals, 'animal', 'animals', locale)}; ${sayChanges(curve, locale)}.`,
    `Believed at first: it grows ${formatPercent(begun.growthPerWeek, locale, 1)} a week; ${number(begun.capacity / inUnits(begun), 1)} animals ${fieldUnitsOf(begun.units).density} × ${number(inUnits(begun), 2)} ${begun.units === 'us' ? 'qt' : 'L'} of substrate = ${number(begun.capacity)} that the enclosure holds.`,
    sayLastCount(curve, locale),
    now && `Weighed together: ${now} now.`,
  ];
}

export type SpareCase = {
  known: Pick<
    CultureKnown,
    'reserve' | 'capacityMedian' | 'promised' | 'promisable' | 'spareAnimals' | 'spareGroups' | 'limitedBy'
  >;
  begun: Pick<Begun, 'groupAnimals'>;
  species: { confidence: number; reserveAnimals: number; reserveShare: number };
};

/** What a culture can spare, step by step. */
export function saySpare({ known, begun, species }: SpareCase, locale?: string): (string | null)[] {
  const number = (value: number) => formatNumber(value, locale);
  if (known.reserve === null || known.capacityMedian === null) return [];
  const percent = (share: number) => formatPercent(share, locale);
  const mustStay = Math.ceil(known.reserve);
  const held = known.spareAnimals < known.promisable - known.promised;
  return [
    `Must stay: ${number(species.reserveAnimals)}, or ${percent(species.reserveShare)} of ${number(known.capacityMedian)} that it holds if that is more: ${formatNumber(known.reserve, locale, 1)}, so ${number(mustStay)}.`,
    `With ${percent(species.confidence)} certainty ${number(known.promisable)} can go and ${number(mustStay)} stay.`,
    held
      ? 'Held back for its health.'
      : `${number(known.promisable)} − ${number(known.promised)} promised = ${number(known.spareAnimals)} to spare.`,
    held
      ? null
      : `${number(known.spareAnimals)} ÷ ${number(begun.groupAnimals)} animals a group = ${formatCount(known.spareGroups, 'group')}${known.limitedBy === 'adults' ? ', as the adults allow no more' : ''}.`,
  ];
}
