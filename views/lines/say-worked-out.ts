import type { Believed } from '../../shared/counts/trend.ts';
import { sayTrend } from '../cultures/say-example.ts';
import { formatDay, formatNumber } from '../layout/format.ts';
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

/** How many animals a line was believed to have, and its cultures on the last of the days. */
export type LineTrend = { points: Believed[]; parts: readonly (Believed & { code: string })[] };

/** More cultures than these are no help to anybody who checks a sum. */
const mostParts = 12;

/** How the number of one line comes together from its cultures', step by step. */
export function sayLine(
  line: { name: string; trend?: readonly Believed[]; parts?: LineTrend['parts'] } | undefined,
  locale?: string,
): (string | null)[] {
  const { name = '', trend = [], parts = [] } = line ?? {};
  const last = trend.at(-1);
  if (!last || parts.length === 0 || parts.length > mostParts) return [sayTrend(trend, locale)];
  const number = (value: number) => formatNumber(value, locale, 1);
  const half = ({ lower, upper }: Believed) => (upper - lower) / 2;
  const sum = parts.map((part) => `${part.code} ${number(part.median)}`).join(' + ');
  const squares = parts.map((part) => `${number(half(part))}²`).join(' + ');
  return [
    `For example line ${name}, ${formatDay(last.onDay, locale)}: ${sum} = ${number(last.median)} animals.`,
    `The halves of their intervals are added as independent doubts are (variances add): √(${squares}) = ${number(last.upper - last.median)}, so ${number(last.lower)} to ${number(last.upper)}.`,
    sayTrend(trend, locale),
  ];
}
