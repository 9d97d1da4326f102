import { formatNumber } from '../layout/format.ts';
import type { Kin } from './part-kin.tsx';
import { formatF, formatPercent } from './say.ts';

/** What a culture keeps, and loses with each generation, step by step. */
export function sayKin(kin: Kin, locale?: string): string[] {
  const { animals, breeding, effectiveSize, inbreeding, heterozygosityKept } = kin;
  const number = (value: number, digits = 0) => formatNumber(value, locale, digits);
  const { femaleShare, neRatio, generationDays } = breeding;
  return [
    `Kept: 1 − ${formatF(inbreeding, locale)} inbreeding = ${formatPercent(heterozygosityKept, locale)}.`,
    `Effective size: ${number(animals)} animals × ${number(neRatio, 2)} that breed × 4 × ${number(femaleShare, 2)} females × ${number(1 - femaleShare, 2)} males = ${number(effectiveSize, 1)}.`,
    `Each generation of ${number(generationDays)} days takes 1 ÷ (2 × ${number(effectiveSize, 1)}) = ${formatPercent(1 / (2 * effectiveSize), locale)}.`,
  ];
}
