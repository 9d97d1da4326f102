import { meanAreaM2, resistanceOf, surfacesM2 } from '../../shared/parcels/conductance.ts';
import { halfwayHours } from '../../shared/parcels/figures-of-run.ts';
import { usualFilms } from '../../shared/parcels/handbook.ts';
import { formatNumber } from '../layout/format.ts';
import { wattsPerKelvin } from './say-stock.ts';

export type Walls = {
  name: string;
  lengthMm: number;
  widthMm: number;
  heightMm: number;
  wallMm: number;
  conductivityWPerMK: number;
};

/** What a box lets through by its wall, step by step. */
export function sayWall({ name, wallMm, conductivityWPerMK, ...box }: Walls, wPerK: number, locale?: string) {
  const number = (value: number, digits = 3) => formatNumber(value, locale, digits);
  const inside = [box.lengthMm, box.widthMm, box.heightMm] as const;
  const surfaces = surfacesM2(inside, wallMm);
  const mean = number(meanAreaM2(inside, wallMm));
  const { inside: within, outside: without } = usualFilms;
  const wall = `1 ÷ ${number(within)} + ${number(wallMm / 1_000, 4)} ÷ ${number(conductivityWPerMK)} + 1 ÷ ${number(without)}`;
  const holds = number(resistanceOf(wallMm, conductivityWPerMK, usualFilms));
  return [
    `${name}: surface inside ${number(surfaces.inside)} m², outside ${number(surfaces.outside)} m², in the mean ${mean} m².`,
    `Film of air inside, wall and film outside: ${wall} = ${holds} m² K/W; ${mean} ÷ ${holds} = ${wattsPerKelvin(wPerK, locale)}.`,
  ];
}

type Row = Walls & { wPerK: number; conductanceWPerK: number | null; conductanceLogId: number | null };

/** What a box lets through, and whence that is known. */
export function sayBox(row: Row, locale?: string): string[] {
  if (row.conductanceWPerK === null) return sayWall(row, row.wPerK, locale);
  const how = row.conductanceLogId === null ? 'as typed in' : 'as measured with a cooling log';
  return [`${row.name}: ${wattsPerKelvin(row.wPerK, locale)}, ${how}.`];
}

type Log = { contentsMassG: number; contentsJPerKgK: number; conductanceWPerK: number };

/** What a cooling log says, step by step. */
export function sayLog({ contentsMassG, contentsJPerKgK, conductanceWPerK }: Log, locale?: string): string[] {
  const number = (value: number, digits = 0) => formatNumber(value, locale, digits);
  const heatCapacityJPerK = (contentsMassG / 1_000) * contentsJPerKgK;
  const half = number(halfwayHours({ conductanceWPerK, heatCapacityJPerK }), 2);
  return [
    `In it ${number(contentsMassG / 1_000, 3)} kg × ${number(contentsJPerKgK)} J/(kg K) = ${number(heatCapacityJPerK)} J/K.`,
    `On the curve nearest to the readings half of the difference to the outside is gone after ${half} hours: 0.693 × ${number(heatCapacityJPerK)} ÷ (${half} × 3,600) = ${wattsPerKelvin(conductanceWPerK, locale)}.`,
  ];
}
