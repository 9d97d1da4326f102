import type { Scenario } from '../../shared/parcels/parcel-options-form.ts';
import type { UnitSystem } from '../../shared/settings/units.ts';
import { exactTemp } from '../climate/say.ts';
import { formatNumber } from '../layout/format.ts';
import { scenarioNames } from './part-looked-at.tsx';

/** A parcel as it was run through the weather. */
export type ParcelReckoning = {
  box: string;
  conductanceWPerK: number;
  contentsKg: number;
  contentsJPerKgK: number;
  /** Of the contents and the packs that melt. */
  heatCapacityJPerK: number;
  startTempC: number;
  pack: { name: string; count: number; watts: number | null; hours: number | null } | null;
  limits: { safeLowC: number; safeHighC: number };
  cases: readonly { scenario: Scenario; outsideC: [number, number]; lowestC: number; highestC: number }[];
  units: UnitSystem;
};

/** What went into the temperatures of a parcel, and what came out, step by step. */
export function sayParcel(one: ParcelReckoning, locale?: string): string[] {
  const number = (value: number, digits = 0) => formatNumber(value, locale, digits);
  const temp = (tempC: number) => exactTemp(tempC, one.units, locale);
  const contentsJPerK = `${number(one.contentsKg, 3)} kg × ${number(one.contentsJPerKgK)} J/(kg K)`;
  const { pack, limits } = one;
  const heat =
    pack && pack.watts !== null && pack.hours !== null
      ? `: ${number(pack.watts, 1)} W each for ${number(pack.hours)} h`
      : '';
  return [
    `${one.box} lets through ${number(one.conductanceWPerK, 3)} W/K. In it ${contentsJPerK}${pack && heat === '' ? ', with the packs' : ''} = ${number(one.heatCapacityJPerK)} J/K, closed at ${temp(one.startTempC)}.`,
    ...(pack ? [`${pack.count} × ${pack.name}${heat}.`] : []),
    ...one.cases.map(
      ({ scenario, outsideC, lowestC, highestC }) =>
        `${scenarioNames[scenario]}: outside ${temp(outsideC[0])} to ${temp(outsideC[1])}, so inside ${temp(lowestC)} to ${temp(highestC)}; they bear ${temp(limits.safeLowC)} to ${temp(limits.safeHighC)}.`,
    ),
  ];
}
