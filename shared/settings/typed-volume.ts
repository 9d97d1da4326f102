import { z } from 'zod';
import { quartsToLitres, type UnitSystem } from './units.ts';

/** Units a small volume is typed in, each as so many millilitres. US measures: 4 cups or 64 tablespoons a quart. */
const mlPerUnit = {
  ml: 1,
  l: 1000,
  tbsp: quartsToLitres(1000) / 64,
  cup: quartsToLitres(1000) / 4,
  qt: quartsToLitres(1000),
} as const;

export type VolumeUnit = keyof typeof mlPerUnit;

const offered: Record<UnitSystem, { value: VolumeUnit; label: string }[]> = {
  metric: [
    { value: 'ml', label: 'ml' },
    { value: 'l', label: 'L' },
  ],
  us: [
    { value: 'tbsp', label: 'tbsp' },
    { value: 'cup', label: 'cups' },
    { value: 'qt', label: 'qt' },
  ],
};

/** The units a field of this house offers, smallest first. */
export const volumeUnitsOf = (units: UnitSystem): readonly { value: VolumeUnit; label: string }[] =>
  offered[units];

/** The schema of the choice beside a volume; left out, it is millilitres. */
export const volumeUnit = z
  .enum(Object.keys(mlPerUnit) as [VolumeUnit, ...VolumeUnit[]], { error: 'Choose a unit of the list.' })
  .default('ml');

/**
 * Millilitres of a typed volume, to a tenth.
 *
 * @example mlOf(1.5, 'cup') // 354.9
 */
export function mlOf(amount: number, unit: VolumeUnit): number {
  return Math.round(amount * mlPerUnit[unit] * 10) / 10;
}

/**
 * Millilitres as a field in that unit shows them, to a tenth.
 *
 * @example shownVolume(354.9, 'cup') // '1.5'
 */
export const shownVolume = (ml: number, unit: VolumeUnit): string =>
  String(Math.round((ml / mlPerUnit[unit]) * 10) / 10);
