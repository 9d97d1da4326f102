import { formatNumber } from '../layout/format.ts';
import type { Kin } from './part-kin.tsx';
import { formatF, formatGeneShare } from './say.ts';

/** What a culture keeps, and loses with each generation, step by step. */
export function sayKin(kin: Kin, locale?: string): string[] {
  const { animals, breeding, effectiveSize, inbreeding, heterozygosityKept } = kin;
  const number = (value: number, digits = 0) => formatNumber(value, locale, digits);
  const { femaleShare, neRatio, generationDays } = breeding;
  return [
    `Kept: 1 − ${formatF(inbreeding, locale)} inbreeding = ${formatGeneShare(heterozygosityKept, locale)}.`,
    `Effective size: ${number(animals)} animals × ${number(neRatio, 2)} that breed × 4 × ${number(femaleShare, 2)} females × ${number(1 - femaleShare, 2)} males = ${number(effectiveSize, 1)}.`,
    `Each generation of ${number(generationDays)} days takes 1 ÷ (2 × ${number(effectiveSize, 1)}) = ${formatGeneShare(1 / (2 * effectiveSize), locale)}.`,
  ];
}

/** A culture mixed with the best number of a partner's animals. */
export type Mixture = {
  code: string;
  animals: number;
  /** Animals that live in the culture now. */
  here: number;
  /** The share of newcomers. */
  share: number;
  own: number;
  theirs: number;
  kinship: number;
  heterozygosityAfter: number;
};

/** What a culture would keep with animals of a partner, step by step. */
export function sayMixture(to: string, one: Mixture, locale?: string): string {
  const [w, rest] = [one.share, 1 - one.share].map((share) => formatNumber(share, locale, 2));
  const f = (value: number) => formatF(value, locale);
  const lost = 1 - one.heterozygosityAfter;
  return `${one.code}: ${formatNumber(one.animals, locale)} of its animals among ${formatNumber(one.here, locale)} in ${to} are a share of ${w}. ${rest}² × ${f(one.own)} + 2 × ${rest} × ${w} × ${f(one.kinship)} + ${w}² × ${f(one.theirs)} = ${f(lost)} inbreeding, so ${formatGeneShare(one.heterozygosityAfter, locale)} kept.`;
}
