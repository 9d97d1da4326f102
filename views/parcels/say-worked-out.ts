import type { ChoiceCurve } from '../../shared/parcels/choice.ts';
import type { FiguresOfRun } from '../../shared/parcels/figures-of-run.ts';
import type { WhyBest } from '../../shared/parcels/packing-day-form.ts';
import type { CupsReckoned } from '../../shared/parcels/parcel-contents.ts';
import type { ParcelLimits } from '../../shared/parcels/parcel-form.ts';
import type { ParcelOption } from '../../shared/parcels/parcel-options.ts';
import type { Scenario } from '../../shared/parcels/parcel-options-form.ts';
import { gramsToOunces, litresToQuarts, type UnitSystem } from '../../shared/settings/units.ts';
import { exactTemp } from '../climate/say.ts';
import { formatDay, formatMoney, formatNumber } from '../layout/format.ts';
import { scenarioNames } from './part-looked-at.tsx';
import { loadWords } from './say-packing.ts';

type Safe = Pick<ParcelLimits, 'safeLowC' | 'safeHighC'>;

/** A parcel as it was run through the weather. */
export type ParcelReckoning = {
  ran: FiguresOfRun;
  contents: { massKg: number; heatCapacityJPerKgK: number; parts: readonly CupsReckoned[] };
  limits: Safe;
  units: UnitSystem;
};

type Reader = { units: UnitSystem; locale?: string | undefined; currency: string };
type Case = { scenario: Scenario; outsideC: readonly [number, number]; insideC: readonly [number, number] };

function sayCase({ scenario, outsideC, insideC }: Case, units: UnitSystem, locale?: string): string {
  const range = ([low, high]: readonly [number, number]) =>
    `${exactTemp(low, units, locale)} to ${exactTemp(high, units, locale)}`;
  return `${scenarioNames[scenario]}: outside ${range(outsideC)}, so inside ${range(insideC)}.`;
}

const sayBear = ({ safeLowC, safeHighC }: Safe, units: UnitSystem, locale?: string) =>
  `They bear ${exactTemp(safeLowC, units, locale)} to ${exactTemp(safeHighC, units, locale)}.`;

/** Up to two hours in minutes. */
function sayHalfway({ heatCapacityJPerK, conductanceWPerK, halfwayHours }: FiguresOfRun, locale?: string) {
  const number = (value: number, digits = 0) => formatNumber(value, locale, digits);
  const start = `0.693 × ${number(heatCapacityJPerK)} ÷ ${number(conductanceWPerK, 3)}`;
  const time =
    halfwayHours < 2
      ? `${start} ÷ 60 = ${number(halfwayHours * 60)} minutes`
      : `${start} ÷ 3,600 = ${number(halfwayHours, 1)} hours`;
  return `So half of the difference to the outside is gone after ${time}, as far as no pack works against it.`;
}

/** The cups added up: "Cups: 3 × 80 g + 2 × 80 g = 400 g; 3 × 380 ml + 2 × 300 ml = 1,740 ml." */
function sayCups(parts: readonly CupsReckoned[], units: UnitSystem, locale?: string): string[] {
  if (parts.length === 0) return [];
  const sum = (each: (part: CupsReckoned) => number, digits: number, unit: string) => {
    const words = (value: number) => `${formatNumber(value, locale, digits)}\u00a0${unit}`;
    const total = parts.reduce((all, part) => all + part.count * each(part), 0);
    return `${parts.map((part) => `${part.count} × ${words(each(part))}`).join(' + ')} = ${words(total)}`;
  };
  const sums =
    units === 'us'
      ? [
          sum(({ eachG }) => gramsToOunces(eachG), 2, 'oz'),
          sum(({ eachL }) => litresToQuarts(eachL), 3, 'qt'),
        ]
      : [sum(({ eachG }) => eachG, 1, 'g'), sum(({ eachL }) => eachL * 1000, 0, 'ml')];
  return [`Cups: ${sums.join('; ')}.`];
}

/** What went into the temperatures of a parcel, and what came out, step by step. */
export function sayParcel({ ran, contents, limits, units }: ParcelReckoning, locale?: string): string[] {
  const number = (value: number, digits = 0) => formatNumber(value, locale, digits);
  const { pack } = ran;
  const heats = pack && pack.watts !== null && pack.hours !== null;
  const mass = `${number(contents.massKg, 3)} kg × ${number(contents.heatCapacityJPerKgK)} J/(kg K)`;
  return [
    ...sayCups(contents.parts, units, locale),
    `${ran.box} lets through ${number(ran.conductanceWPerK, 3)} W/K. In it ${mass}${pack && !heats ? ', with the packs' : ''} = ${number(ran.heatCapacityJPerK)} J/K, closed at ${exactTemp(ran.startTempC, units, locale)}.`,
    sayHalfway(ran, locale),
    ...(pack
      ? [
          `${pack.count} × ${pack.name}${heats ? `: ${number(pack.watts ?? 0, 1)} W each for ${number(pack.hours ?? 0)} h` : ''}.`,
        ]
      : []),
    ...ran.cases.map(({ scenario, outsideC, lowestC, highestC }) =>
      sayCase({ scenario, outsideC, insideC: [lowestC, highestC] }, units, locale),
    ),
    sayBear(limits, units, locale),
  ];
}

/** What an option costs, part by part: `€3.00 + 1 × €1.50 = €4.50`. */
function sayCost(best: ParcelOption, { ran, heldPrice }: WhyBest, { currency, locale }: Reader): string {
  const money = (minor: number) => formatMoney(minor, currency, locale);
  const parts = [
    `box ${money(ran.prices.box)}`,
    ran.pack && `${ran.pack.count} × ${ran.pack.name} at ${money(ran.prices.pack)}`,
    heldPrice > 0 && `held at the counter ${money(heldPrice)}`,
  ].filter(Boolean);
  return `${parts.join(' + ')} = ${money(best.cost)}`;
}

/** Why an order is to be sent in this way on this day, step by step. */
export function sayBest(best: ParcelOption, why: WhyBest, reader: Reader): string[] {
  const { safe, ways, next } = why;
  const day = formatDay(best.dispatchOn, reader.locale, 'weekday');
  const first = `${day} is the first day on which it can go safely in all weathers: ${safe} of ${ways} ways of that day ${safe === 1 ? 'is' : 'are'} safe.`;
  const cost = sayCost(best, why, reader);
  if (!next) return [first, `The only one: ${cost}.`];
  const same = next.cost === best.cost;
  const other = same
    ? `${loadWords(next)} costs the same and comes nearer to what they bear`
    : `next comes ${loadWords(next)} for ${formatMoney(next.cost, reader.currency, reader.locale)}`;
  return [first, `The cheapest of them: ${cost}; ${other}.`];
}

const rangeOf = (temps: readonly number[]): [number, number] => [Math.min(...temps), Math.max(...temps)];

/** What was reckoned with when a parcel was decided, as it was kept. */
export function sayKept(
  curves: readonly ChoiceCurve[],
  limits: Safe,
  { units, locale }: Pick<Reader, 'units' | 'locale'>,
): string[] {
  return [
    'As it was worked out when it was decided:',
    ...curves.map(({ scenario, points }) =>
      sayCase(
        {
          scenario,
          outsideC: rangeOf(points.map(({ outsideC }) => outsideC)),
          insideC: rangeOf(points.map(({ insideC }) => insideC)),
        },
        units,
        locale,
      ),
    ),
    sayBear(limits, units, locale),
  ];
}
